/** Invented readings: a few players, four bars of four quarters, nothing found until a test puts it there. */
import type { Finding } from '../../../src/desk/findings/model.ts';
import { findingsOf } from '../../../src/desk/findings/index.ts';
import type { Figure, Reading, ReadingFigures, ReadingNote } from '../../../src/desk/reading.ts';
import { findingText, type FindingText, type TellingLanguage } from '../../../src/desk/words/index.ts';

/** A figure with the same half interval on both sides. */
export const figure = (value: number, half: number): Figure => ({
  value,
  low: value - half,
  high: value + half,
});

export const players = { P1: 'Flutist', P2: 'Clarinettist', P3: 'Bassoonist' } as const;
export type Part = keyof typeof players;

/** Quarter = 60: four bars of four, from second 4 on. `late`: seconds by which a note comes after its time. */
export const notesOf = (
  parts: readonly Part[],
  late: (note: { readonly part: Part; readonly bar: number; readonly beat: number }) => number = () => 0,
): readonly ReadingNote[] =>
  [1, 2, 3, 4].flatMap((bar) =>
    [1, 2, 3, 4].flatMap((beat) =>
      parts.map((part): ReadingNote => {
        const expected = 4 * bar + beat - 1;
        const time = expected + late({ part, bar, beat });
        return {
          id: `${part}-${bar}-${beat}`,
          part,
          bar: String(bar),
          barIndex: bar - 1,
          beat: String(beat),
          pass: 1,
          rep: 1,
          expected,
          onset: time,
          perceived: time,
          offset: time + 0.8,
          level: -20,
          cents: 0,
          uncertainty: 0.003,
          perceivedUncertainty: 0.003,
          state: 'heard',
        };
      }),
    ),
  );

const played = [1, 2, 3, 4].map((bar) => ({
  rep: 1,
  bar: String(bar),
  barIndex: bar - 1,
  pass: 1,
  start: 4 * bar,
  end: 4 * bar + 4,
  gives: false,
}));

/** Where bar `bar` is. */
export const inBar = (bar: number) => ({ rep: 1, bar: String(bar), barIndex: bar - 1, pass: 1 });

export const made = (
  changes: Partial<ReadingFigures> = {},
  parts: readonly Part[] = ['P1', 'P2'],
): Reading => {
  const figures: ReadingFigures = {
    format: 'levare.reading/4',
    title: 'Four Bars',
    bars: '1-4',
    click: { placement: 'bar', perBar: 1 },
    parts: parts.map((id) => ({ id, name: players[id], file: `${id}.wav`, reference: 440 })),
    clock: [],
    playing: 'click',
    played,
    notes: notesOf(parts),
    written: [],
    added: [],
    pairs: [],
    corrections: [],
    timing: [],
    drift: [],
    tempo: [],
    barLines: [],
    entries: [],
    seams: [],
    syncopations: [],
    lengths: [],
    articulation: [],
    articulationBetween: [],
    evenness: [],
    evennessBetween: [],
    assumed: [],
    ...changes,
  };
  return { ...figures, findings: findingsOf(figures) };
};

export const strongest = (reading: Reading): Finding => {
  const [first] = reading.findings;
  if (first === undefined) throw new Error('Nothing was found.');
  return first;
};

export const said = (finding: Finding, reading: Reading, language: TellingLanguage = 'en'): FindingText =>
  findingText(finding, reading, language);

/** All that is said of a reading. */
export const allSaid = (reading: Reading, language: TellingLanguage): string =>
  reading.findings
    .map((finding) => {
      const { sentence, tryThis, caution } = said(finding, reading, language);
      return [sentence, tryThis, caution ?? ''].join(' ');
    })
    .join('\n');

const none = { before: null, after: null };
/** A hand-over in bar 3 of which nothing is known. */
export const seam: Reading['seams'][number] = {
  ...inBar(3),
  from: 'P1',
  to: 'P2',
  beat: '2',
  n: { from: 6, to: 6 },
  late: null,
  level: { from: null, to: null },
  length: null,
  levelSlope: none,
  tempoSlope: none,
};
