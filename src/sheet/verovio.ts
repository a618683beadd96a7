/**
 * How the engraving library is asked, on Node and in the browser alike, so that both draw the same pictures. Every
 * option that matters is written down; docs/decisions/engraving.md has the reasons. Data only: nothing is loaded here.
 */
import type { EngraveOptions } from './ports.ts';

/** Version that package.json pins; pages may differ with any other. */
export const verovioVersion = '6.3.0';

/** Tenths of a millimetre: the tallest page that the library takes, 6 m. */
const tallest = 60_000;

const fixed = {
  adjustPageHeight: true,
  breaks: 'auto',
  condense: 'none',
  expandNever: true,
  font: 'Leipzig',
  footer: 'none',
  header: 'none',
  lyricWordSpace: 2,
  mnumInterval: 0,
  pageHeight: tallest,
  pageMarginBottom: 0,
  pageMarginLeft: 0,
  pageMarginRight: 0,
  pageMarginTop: 0,
  scale: 100,
  smuflTextFont: 'embedded',
  svgBoundingBoxes: true,
  svgFormatRaw: true,
  svgRemoveXlink: true,
  svgViewBox: true,
  systemDivider: 'none',
  xmlIdChecksum: true,
} as const;

/** The library's options for a page. Its lengths are tenths of a millimetre, its `unit` half a staff space. */
export const verovioOptions = ({
  staff,
  width,
  gap = 11,
}: EngraveOptions): Readonly<Record<string, unknown>> => ({
  ...fixed,
  spacingBracketGroup: gap,
  spacingStaff: gap,
  unit: (staff * 10) / 8,
  pageWidth: Math.round(width * 10),
});

/** MusicXML of one bar with a tempo mark: the library gives its text font along with a picture that uses it. */
export const textFontSample = `<?xml version="1.0"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes><direction><direction-type><metronome>
<beat-unit>quarter</beat-unit><per-minute>60</per-minute></metronome></direction-type></direction>
<note><rest measure="yes"/><duration>4</duration></note></measure></part></score-partwise>`;

/** The font in a picture of that sample: its family, and its WOFF2 file in base 64; null where there is none. */
export const textFontIn = (svg: string): { readonly family: string; readonly base64: string } | null => {
  const found = /font-family: *'([^']+)'[^}]*base64,([^)'"]+)/.exec(svg);
  const [, family, base64] = found ?? [];
  return family === undefined || base64 === undefined ? null : { family, base64 };
};

/** A picture without its style sheet, whose fonts would only make it larger: the page says all by attributes. */
export const withoutStyle = (svg: string): string => svg.replace(/<style[^>]*>[^]*?<\/style>/g, '');
