/** A reading pencilled on the music of its drill, for a screen: systems one by one; words stand beside them, on the screen's own page. */
import type { WorkedDrill } from '../drill/workOut.ts';
import { writeMusicXml } from '../score/write/musicxml.ts';
import { ok, type Result } from '../units/index.ts';
import { dressed } from './dress.ts';
import type { Engraved, Engraver } from './ports.ts';
import type { ReadingMark, ReadingMarks } from './readingMarks.ts';
import { layOut } from './readingSheet.ts';
import { picture, type ScreenOptions } from './screen.ts';
import { sheetScore } from './sheetScore.ts';
import { shape, svgText } from './svg.ts';
import { Touchables, type ScreenBar } from './touch.ts';

/** One system with its marks, as a picture of its own; lengths in hundredths of a millimetre. */
export interface ReadingSystem {
  /** Its signs are drawn with those of `ReadingScreen.signs`; each mark is an element with its id, a title and a desc. */
  readonly svg: string;
  readonly width: number;
  readonly height: number;
  /** Printed numbers of its first and last bar; empty where it holds nothing but the count-in. */
  readonly from: string;
  readonly to: string;
  readonly bars: readonly ScreenBar[];
}

export interface ReadingScreen {
  /** A picture that shows nothing and holds the music signs of all systems, by id. */
  readonly signs: string;
  readonly systems: readonly ReadingSystem[];
  readonly drawn: readonly ReadingMark[];
  /** Marks for which there was no room. */
  readonly left: readonly ReadingMark[];
  readonly musicFont: Engraved['musicFont'];
}

/**
 * Engraves a drill for a screen with the marks of a reading. Same drill, marks, options and engraver: same pictures. Errors: the
 * engraver's, and `engraving-failed` where its picture is not as expected.
 */
export const makeReadingScreen = async (
  worked: WorkedDrill,
  marks: ReadingMarks,
  { staff, width, words = {} }: ScreenOptions,
  engraver: Engraver,
): Promise<Result<ReadingScreen>> => {
  const sheet = sheetScore(worked, { parts: null, others: 'grey', words });
  const music = writeMusicXml(sheet.score);
  const xml = dressed(music.text, sheet);
  const laid = await layOut(worked, sheet, xml, marks, { staff, width, engraver, widthOf: null });
  if (!laid.ok) return laid;
  const { pencilled, cut, engraved } = laid.value;
  const touchables = new Touchables(worked, sheet, (staff * 100) / 4);
  const signs = [...cut.glyphs].map(([id, glyph]) => ({
    ...glyph,
    attributes: { ...glyph.attributes, id },
  }));
  return ok(
    {
      signs: svgText(shape('svg', { xmlns: 'http://www.w3.org/2000/svg' }, [shape('defs', {}, signs)])),
      systems: pencilled.systems.map((system, i) => {
        const { svg, height } = picture(system, width * 100);
        const boxed = cut.systems[i];
        const own = sheet.score.bars.slice(system.first, system.first + system.bars);
        const numbers = own.filter(({ index }) => index >= sheet.countBars).map(({ number }) => number);
        return {
          svg: svgText(svg),
          width: width * 100,
          height,
          from: numbers[0] ?? '',
          to: numbers.at(-1) ?? '',
          bars: boxed === undefined ? [] : touchables.bars(boxed),
        };
      }),
      drawn: pencilled.drawn,
      left: pencilled.left,
      musicFont: engraved.musicFont,
    },
    [...music.problems, ...sheet.problems],
  );
};
