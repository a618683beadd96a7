/**
 * Sources: what sounds and when is held against the drill's own timeline, which has its checks; what is written against the W3C
 * schema of MusicXML 4.0 and our reader; rests against the source beside the check.
 */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { extractScore } from '../../src/drill/extract.ts';
import type { Drill } from '../../src/drill/model.ts';
import { workOut, type WorkedDrill } from '../../src/drill/workOut.ts';
import { scoreTempo } from '../../src/rhythm/scoreTempo.ts';
import { secondsAtPosition } from '../../src/rhythm/tempo.ts';
import type { Mark, Score } from '../../src/score/model.ts';
import { playingOrder } from '../../src/score/playing.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { writeMusicXml } from '../../src/score/write/musicxml.ts';
import { decimalText } from '../../src/score/write/musicxml/numbers.ts';
import { bpm, F, seeded, type Problem } from '../../src/units/index.ts';
import { sharedData } from '../shared.ts';
import { plainDrill, worked } from '../support/drills.ts';
import { music } from '../support/music.ts';
import { sameMusic } from '../support/sameMusic.ts';
import { cannotValidate, schemaErrors } from '../support/schema.ts';

const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');

const read = (bytes: Uint8Array): Score | null => {
  const result = readScore(bytes);
  return result.ok ? result.value : null;
};

/** Random passages of a score, with line filters, as drills. */
const passages = (score: Score, count: number, seed: number): Partial<Drill>[] => {
  const random = seeded(seed);
  const pick = (n: number) => Math.floor(random() * n);
  return Array.from({ length: count }, () => {
    const first = pick(score.bars.length);
    const last = Math.min(score.bars.length - 1, first + pick(8));
    const keep = ['all', '1/8+', '1/8', '1/8-', '1/16', '1/4+', '1/8t'][pick(7)] ?? 'all';
    return { bars: `@${first}-@${last}`, keep, upbeat: 'auto', tempo: [] };
  });
};

/** What sounds, as text: part, place, length and key of each note. */
const sounding = (notes: readonly (readonly [string, F.Fraction, F.Fraction, number | null])[]): string[] =>
  notes
    .map(([part, at, length, midi]) => `${part} ${F.format(at)} ${F.format(length)} ${midi ?? '-'}`)
    .sort();

/** Kept notes of the timeline, recounts after fermatas taken out, against the sounding notes of the extract. */
const differs = (drill: WorkedDrill, extract: Score): boolean => {
  const recounted = drill.round.bars.filter(({ kind }) => kind === 'hold');
  const without = (at: F.Fraction) =>
    recounted.reduce((place, hold) => (F.less(hold.start, at) ? F.sub(place, hold.length) : place), at);
  const kept = drill.timeline.notes
    .filter((note) => note.kept)
    .map(({ part, at, length, midi }) => {
      const begins = without(at);
      return [part, begins, F.sub(without(F.add(at, length)), begins), midi] as const;
    });
  const drawn = extract.parts.flatMap(({ notes }) =>
    notes.map(({ part, onset, duration, midi }) => [part, onset, duration, midi] as const),
  );
  return sounding(kept).join('\n') !== sounding(drawn).join('\n');
};

/** When the bars of the first repetition begin, in seconds from its beginning: by the timeline. */
const played = ({ timeline }: WorkedDrill): F.Fraction[] => {
  const first = timeline.bars.filter(({ kind, rep }) => kind === 'bar' && rep === 1);
  const times = first.map(({ start }) => secondsAtPosition(timeline.tempo, start));
  return times.map((time) => F.sub(time, times[0] ?? F.zero));
};

/** The same by the extract alone, as any program would read its marks. */
const drawn = (extract: Score): F.Fraction[] => {
  const { map } = scoreTempo(extract, playingOrder(extract).order);
  return extract.bars.map(({ start }) => secondsAtPosition(map, start));
};

/** A figure without a finite decimal, after "quarter = dotted quarter" say, is rounded in the file, and that is told. */
const asTold = (score: Score, problems: readonly Problem[]): Score => {
  if (!problems.some(({ code }) => code === 'tempo-rounded')) return score;
  const rounded = (mark: Mark): Mark =>
    mark.kind === 'tempo'
      ? { ...mark, perMinute: bpm(F.parse(decimalText(mark.perMinute).text) ?? F.zero) }
      : mark;
  return { ...score, marks: score.marks.map(rounded) };
};

/** What is wrong with the extracts of some passages of a score; written documents are put aside for the schema. */
const faults = (name: string, score: Score, seed: number, documents: Map<string, string>): string[] =>
  passages(score, 6, seed).flatMap((drill, i) => {
    const result = workOut(score, { ...plainDrill, ...drill }, 48_000);
    if (!result.ok)
      return result.error.code === 'bars-not-played' ? [] : [`${name}: ${result.error.message}`];
    const label = `${name} ${drill.bars ?? ''} ${drill.keep ?? ''}`;
    const extract = extractScore(result.value);
    const { text, problems } = writeMusicXml(extract);
    documents.set(`${label} ${i}`, text);
    const again = read(new TextEncoder().encode(text));
    const lines = again === null ? ['does not read back'] : sameMusic(asTold(extract, problems), again);
    if (drawn(extract).map(F.format).join() !== played(result.value).map(F.format).join())
      lines.push('is timed otherwise than the timeline');
    if (differs(result.value, extract)) lines.push('sounds otherwise than the timeline');
    return lines.slice(0, 3).map((line) => `${label}: ${line}`);
  });

describe('an extract', () => {
  it('has rests where the line filter took notes out, cut at the beats', () => {
    const score = music('4/4', { P1: 'C4/8 D4/8 E4/4 F4/16 G4/16 A4/16 B4/16 C5/4' });
    const rests = (keep: string) =>
      extractScore(worked(score, { keep })).parts[0]?.written.map(
        ({ kind, value }) => `${kind} ${value?.type ?? 'whole bar'}`,
      );
    // The first half of a bar of four is one rest, the beats of the second are not hidden (Gould, Behind Bars; from memory).
    expect(rests('1/16')).toEqual([
      'rest half',
      'note 16th',
      'note 16th',
      'note 16th',
      'note 16th',
      'rest quarter',
    ]);
    expect(rests('1/32')).toEqual(['rest whole bar']);
  });

  it('keeps printed numbers, makes the upbeat a pickup, and writes repeats out', () => {
    const score = music('|: 4/4 ; 4/4 :|', { P1: 'C4/1 | C4/2. D4/4' });
    const extract = extractScore(worked(score, { bars: 'all' }));
    expect(extract.bars.map(({ number, repeatEnd }) => `${number} ${repeatEnd}`)).toEqual([
      '1 0',
      '2 0',
      '1 0',
      '2 0',
    ]);
    const [upbeat] = extractScore(worked(score, { bars: '1', pass: 2, upbeat: 'auto' })).bars;
    expect(upbeat && `${upbeat.number} ${F.format(upbeat.length)} ${String(upbeat.pickup)}`).toBe(
      '2 1/4 true',
    );
  });

  const documents = new Map<string, string>();

  it('of the demo sounds as its timeline and reads back equal', () => {
    const score = read(readFileSync(demo));
    expect(score && faults('demo', score, 1, documents)).toEqual([]);
  });

  it.skipIf(sharedData === null)('of any shared score sounds as its timeline and reads back equal', () => {
    const wrong = ['musicxml-suite', 'openscore-quartets'].flatMap((folder) => {
      const place = path.join(sharedData ?? '', 'scores', folder);
      return readdirSync(place).flatMap((name, i) => {
        const score = read(readFileSync(path.join(place, name)));
        return score === null ? [] : faults(name, score, i, documents);
      });
    });
    expect(wrong).toEqual([]);
  });

  it.skipIf(cannotValidate !== null)('is valid MusicXML 4.0 by the W3C schema', () => {
    expect(documents.size).toBeGreaterThan(0);
    expect(schemaErrors(documents)).toEqual([]);
  });
});
