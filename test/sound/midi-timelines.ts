/** Timelines made by hand, and mido, the independent library that reads the files back. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { ClickEvent, DrillBar, NoteEvent, Timeline } from '../../src/drill/model.ts';
import { secondsAtPosition, type TempoMap } from '../../src/rhythm/tempo.ts';
import { metreLength, parseMetre, noMetre } from '../../src/score/metre.ts';
import { beats, F, minus, plus, samplesAt, type Beats } from '../../src/units/index.ts';

export interface MidoNote {
  readonly tick: number;
  /** Seconds as "n/d". */
  readonly time: string;
  readonly channel: number;
  readonly key: number;
  readonly velocity: number;
  readonly end: number | null;
}
export interface MidoTrack {
  readonly name: string;
  readonly end: number;
  readonly notes: readonly MidoNote[];
  readonly signatures: readonly (readonly [number, number, number])[];
  readonly tempi: readonly (readonly [number, number])[];
  readonly markers: readonly (readonly [number, string])[];
  readonly lyrics: readonly (readonly [number, string])[];
  readonly programs: readonly (readonly [number, number, number])[];
  readonly keys: readonly (readonly [number, string])[];
}
export interface MidoFile {
  readonly type: number;
  readonly ticks_per_beat: number;
  readonly tracks: readonly MidoTrack[];
}

/** What mido finds in a file of these bytes. */
export const readWithMido = (bytes: Uint8Array, charset = 'utf-8'): MidoFile => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-midi-'));
  try {
    const file = path.join(folder, 'drill.mid');
    writeFileSync(file, bytes);
    const script = path.resolve('test', 'outside', 'read_midi.py');
    const out = execFileSync('/usr/bin/python3', [script, file, '--charset', charset], {
      maxBuffer: 2 ** 28,
    });
    return JSON.parse(out.toString('utf8')) as MidoFile;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

export const at = (text: string): Beats => beats(F.parse(text) ?? F.zero);

/** Bars laid end to end: "4/4", or with their own length "4/4 1/4"; the number is counted from `first`. */
export const layBars = (texts: readonly string[], first = 1): DrillBar[] => {
  let start = at('0');
  return texts.map((text, k) => {
    const [name = '', own] = text.split(' ');
    const metre = parseMetre(name) ?? noMetre;
    const length = own === undefined ? (metreLength(metre) ?? at('1')) : at(own);
    const bar: DrillBar = {
      kind: 'bar',
      start,
      length,
      metre,
      barIndex: k,
      number: String(first + k),
      written: start,
      pass: 1,
      rep: 1,
    };
    start = plus(start, length);
    return bar;
  });
};

export const clickAt = (
  map: TempoMap,
  position: Beats,
  first: boolean,
  word: string | null = null,
): ClickEvent => {
  const time = secondsAtPosition(map, position);
  return {
    kind: word === null ? 'click' : 'count-in',
    at: position,
    time,
    sample: samplesAt(time, 48_000),
    bar: word === null ? '1' : null,
    barIndex: word === null ? 0 : null,
    beat: '1',
    pass: 1,
    rep: 1,
    word,
    first,
  };
};

/** A click on every `beat` of the bars. */
export const everyBeat = (map: TempoMap, bars: readonly DrillBar[], beat: string): ClickEvent[] =>
  bars.flatMap(({ start, length }) => {
    const clicks: ClickEvent[] = [];
    for (let into = at('0'); F.less(into, length); into = plus(into, at(beat)))
      clicks.push(clickAt(map, plus(start, into), F.isZero(into)));
    return clicks;
  });

export const noteAt = (
  map: TempoMap,
  part: string,
  from: string,
  length: string,
  midi: number | null,
  kept = true,
): NoteEvent => {
  const time = secondsAtPosition(map, at(from));
  const end = secondsAtPosition(map, plus(at(from), at(length)));
  return {
    id: `${part} ${from} ${String(midi)}`,
    note: 'n',
    part,
    at: at(from),
    length: at(length),
    time,
    duration: minus(end, time),
    bar: '1',
    barIndex: 0,
    beat: '1',
    pass: 1,
    rep: 1,
    midi,
    kept,
  };
};

export const timeline = (
  tempo: TempoMap,
  bars: readonly DrillBar[],
  clicks: readonly ClickEvent[],
  notes: readonly NoteEvent[] = [],
): Timeline => {
  const last = bars.at(-1);
  const end = last === undefined ? at('0') : plus(last.start, last.length);
  return { sampleRate: 48_000, bars, tempo, clicks, notes, duration: secondsAtPosition(tempo, end) };
};
