/** Hand-overs, tempo and findings of a reading as pencil marks. */
import type { WorkedDrill } from '../drill/workOut.ts';
import type { HandOver, MarginWords, MarkBars, PaceArrow } from '../sheet/index.ts';
import { mostFindings, type Finding } from './findings/index.ts';
import { seamsSeen } from './findings/places.ts';
import { tells, type Seen } from './findings/weigh.ts';
import type { Reading, ReadingSeam } from './reading.ts';
import { findingText, shownNames, type TellingLanguage } from './words/index.ts';
import { numberIn, pageTexts, type PageTexts } from './words/pages.ts';

const placeKey = ({ barIndex, pass, beat }: Pick<ReadingSeam, 'barIndex' | 'pass' | 'beat'>): string =>
  `${barIndex}/${pass}/${beat}`;

/** One line of what is told of a hand-over, and the same with its interval. */
const seamLine = (
  { kind, figure: { value, low, high } }: Seen,
  texts: PageTexts,
): { readonly line: string; readonly whole: string } | null => {
  const up = value > 0;
  const digits = kind === 'seam-time' ? 0 : kind === 'seam-length' ? 2 : 1;
  const size = (of: number): string => numberIn(Math.abs(of), digits, texts.point);
  const [least, most] = up ? [low, high] : [high, low];
  const between = texts.between({ value: size(value), low: size(least), high: size(most) });
  const said: Partial<Readonly<Record<Seen['kind'], string>>> = {
    'seam-time': `${size(value)} ms ${up ? texts.afterwards : texts.earlier}`,
    'seam-level': `${size(value)} dB ${up ? texts.louder : texts.softer}`,
    'seam-length': up ? texts.longer : texts.shorter,
    'seam-level-slope': up ? texts.turnsLouder : texts.turnsSofter,
    'seam-tempo-slope': up ? texts.movesOn : texts.holdsBack,
  };
  const line = said[kind];
  return line === undefined ? null : { line, whole: `${line} (${between})` };
};

/** Each hand-over once, with what can be told of it by intervals that are wider for there being many. */
export const seamMarks = (
  worked: WorkedDrill,
  reading: Reading,
  language: TellingLanguage,
): readonly HandOver[] => {
  const texts = pageTexts[language];
  const name = shownNames(reading);
  const source = new Map(worked.timeline.notes.map(({ id, note }) => [id, note]));
  const seen = seamsSeen(reading);
  const once = new Map<string, ReadingSeam>();
  for (const seam of reading.seams) {
    const key = `${placeKey(seam)}/${seam.from}/${seam.to}`;
    if (!once.has(key)) once.set(key, seam);
  }
  return [...once.values()].flatMap((seam, i): readonly HandOver[] => {
    const taken = reading.notes.find((one) => one.part === seam.to && placeKey(one) === placeKey(seam));
    const note = taken === undefined ? undefined : source.get(taken.id);
    if (note === undefined) return [];
    const told = seen.flatMap((one) => {
      const here = placeKey(one) === placeKey(seam) && one.parts[0] === seam.from && one.parts[1] === seam.to;
      return here && tells(one.figure) ? (seamLine(one, texts) ?? []) : [];
    });
    return [
      {
        kind: 'seam',
        id: `mark-seam-${i + 1}`,
        part: seam.to,
        from: seam.from,
        note,
        pass: seam.pass,
        lines: told.map(({ line }) => line),
        title: `${texts.place(name(seam.to), seam.bar, seam.beat)}: ${texts.seam(name(seam.from), name(seam.to))}`,
        desc: told.length === 0 ? texts.oneLine : told.map(({ whole }) => whole).join('; '),
      },
    ];
  });
};

/** From the bar of a finding to its last. */
const barsOf = ({ barIndex, pass, rep, toBar }: Finding, { played }: Reading): MarkBars => {
  const from = played.findIndex((bar) => bar.barIndex === barIndex && bar.pass === pass && bar.rep === rep);
  const to = toBar === null ? from : played.findIndex(({ bar }, i) => i >= from && bar === toBar);
  return { barIndex, pass, bars: from < 0 || to < from ? 1 : to - from + 1 };
};

/** Bars that stand out in tempo. */
export const paceMarks = (reading: Reading, language: TellingLanguage): readonly PaceArrow[] => {
  const texts = pageTexts[language];
  return reading.findings
    .filter(({ kind, told, small }) => kind === 'bar-tempo' && told && !small)
    .map((finding, i) => {
      const { value, low, high } = finding.figure;
      const size = (of: number): string => numberIn(Math.abs(of), 1, texts.point);
      const [least, most] = value > 0 ? [low, high] : [high, low];
      const way = value > 0 ? texts.movesOn : texts.holdsBack;
      return {
        ...barsOf(finding, reading),
        kind: 'pace' as const,
        id: `mark-pace-${i + 1}`,
        on: value > 0,
        label: `${way} ${size(value)}`,
        title: `${texts.bars(finding.bar, finding.toBar)}: ${way}`,
        desc: `${size(value)} ${texts.perMinute}, ${texts.between({ value: size(value), low: size(least), high: size(most) })}`,
      };
    });
};

/** What is told, strongest first; where nothing can be, what comes nearest. */
export const wordMarks = (
  reading: Reading,
  language: TellingLanguage,
  most = mostFindings,
): readonly MarginWords[] => {
  const told = reading.findings.filter((one) => one.told);
  return (told.length > 0 ? told.slice(0, most) : reading.findings.slice(0, 1)).map((finding, i) => {
    const { sentence, tryThis, caution } = findingText(finding, reading, language);
    const texts = [sentence, tryThis, ...(caution === null ? [] : [caution])];
    return {
      ...barsOf(finding, reading),
      kind: 'words' as const,
      id: `mark-words-${i + 1}`,
      number: String(i + 1),
      texts,
      title: pageTexts[language].words(i + 1, finding.bar),
      desc: texts.join(' '),
    };
  });
};
