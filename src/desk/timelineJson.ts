/** The timeline as it is printed: "levare.timeline/1", one event a line. Its JSON schema is in docs/schemas. */
import type { ClickEvent, NoteEvent, Timeline } from '../drill/model.ts';
import { secondsNumber } from '../units/index.ts';

/** Time zero is the first sample of the drill's sound; times are in seconds. */
export interface PrintedTimeline {
  readonly format: 'levare.timeline/1';
  /** Hz. */
  readonly sampleRate: number;
  /** By time. */
  readonly clicks: readonly PrintedClick[];
  /** By time, then part. */
  readonly notes: readonly PrintedNote[];
  /** Of the whole drill. */
  readonly duration: number;
}

export interface PrintedClick {
  readonly time: number;
  readonly sample: number;
  /** Printed number of the bar; null for what is counted before the music. */
  readonly bar: string | null;
  readonly barIndex: number | null;
  /** "2", "2+1/2". */
  readonly beat: string;
  /** Which time through the bar; null for what is counted before the music. */
  readonly pass: number | null;
  /** Repetition, from 1. */
  readonly rep: number;
  readonly kind: 'count-in' | 'click';
  /** The count word, of a count-in. */
  readonly word: string | null;
}

export interface PrintedNote {
  /** Unique in the timeline. */
  readonly id: string;
  readonly part: string;
  readonly time: number;
  readonly duration: number;
  readonly bar: string;
  readonly barIndex: number;
  readonly beat: string;
  readonly pass: number;
  readonly rep: number;
  /** Sounding, A4 = 69; null for unpitched percussion. */
  readonly midi: number | null;
  /** Whether the line filter keeps it. */
  readonly kept: boolean;
}

const printedClick = (click: ClickEvent): PrintedClick => ({
  time: secondsNumber(click.time),
  sample: click.sample,
  bar: click.bar,
  barIndex: click.barIndex,
  beat: click.beat,
  pass: click.pass,
  rep: click.rep,
  kind: click.kind,
  word: click.word,
});

const printedNote = (note: NoteEvent): PrintedNote => ({
  id: note.id,
  part: note.part,
  time: secondsNumber(note.time),
  duration: secondsNumber(note.duration),
  bar: note.bar,
  barIndex: note.barIndex,
  beat: note.beat,
  pass: note.pass,
  rep: note.rep,
  midi: note.midi,
  kept: note.kept,
});

function* list<T>(name: string, events: readonly T[], printed: (event: T) => object): Generator<string> {
  yield `  ${JSON.stringify(name)}: [`;
  for (const [i, event] of events.entries()) {
    yield `${i === 0 ? '\n' : ',\n'}    ${JSON.stringify(printed(event))}`;
  }
  yield events.length === 0 ? '],\n' : '\n  ],\n';
}

function* pieces(timeline: Timeline): Generator<string> {
  yield `{\n  "format": "levare.timeline/1",\n  "sampleRate": ${timeline.sampleRate},\n`;
  yield* list('clicks', timeline.clicks, printedClick);
  yield* list('notes', timeline.notes, printedNote);
  yield `  "duration": ${JSON.stringify(secondsNumber(timeline.duration))}\n}\n`;
}

/** Text gathered before it is encoded, in characters. */
const gathered = 65_536;

function* encoded(timeline: Timeline): Generator<Uint8Array> {
  const encoder = new TextEncoder();
  let text = '';
  for (const piece of pieces(timeline)) {
    text += piece;
    if (text.length < gathered) continue;
    yield encoder.encode(text);
    text = '';
  }
  yield encoder.encode(text);
}

/** The file's bytes (UTF-8), in pieces, so that a drill of hours is never held in memory as text. */
export const timelineJson = (timeline: Timeline): Iterable<Uint8Array> => ({
  [Symbol.iterator]: () => encoded(timeline),
});
