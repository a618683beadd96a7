/**
 * A drill as a Standard MIDI File of format 1: what other programs play. First the conductor's track (title, time
 * signatures, tempi, bar numbers as markers), then the click, then a track for each part.
 */
import type { ClickEvent, NoteEvent, Timeline } from '../drill/model.ts';
import {
  beats,
  F,
  plus,
  problem,
  countText,
  type Beats,
  type Problem,
  type Severity,
} from '../units/index.ts';
import { midiFile, rank, textEvent, type TrackEvent } from './midi/bytes.ts';
import { barsEnd, metreEvents } from './midi/metreTrack.ts';
import { tempoEvents } from './midi/tempoTrack.ts';
import { tickScale } from './midi/ticks.ts';

/** What the file says of the music beside its events. */
export interface MidiExtract {
  readonly title: string;
  /** In score order. `program`: General MIDI, 1 to 128, or null for none said. */
  readonly parts: readonly { readonly id: string; readonly name: string; readonly program: number | null }[];
}

/** Channel 10, from 0: percussion in General MIDI level 1. */
const percussion = 9;
/** General MIDI level 1 percussion key map: 76 high and 77 low wood block, 37 side stick (from memory). */
const keys = { first: 76, other: 77, unpitched: 37 } as const;
/** Velocities; one for all, as a score says nothing that a velocity could carry. */
const velocity = { click: 100, note: 80 } as const;
/** Channels for parts: all but percussion. */
const channels = Array.from({ length: 16 }, (_, k) => k).filter((channel) => channel !== percussion);
/** A wood block rings by itself: a click is held for a 32nd, or until the next one. */
const clickLength = F.fraction(1, 32);

/** A note from one tick to another, at least one tick long, on and off. */
const noteEvents = (from: number, to: number, channel: number, key: number, force: number): TrackEvent[] => [
  { tick: from, rank: rank.on, bytes: [0x90 | channel, key, force] },
  { tick: Math.max(to, from + 1), rank: rank.off, bytes: [0x80 | channel, key, 0] },
];

const clickTrack = (clicks: readonly ClickEvent[], tick: (at: Beats) => number): TrackEvent[] => [
  { tick: 0, rank: rank.name, bytes: textEvent(0x03, 'click') },
  ...clicks.flatMap(({ at, first, word }, k) => {
    const next = clicks[k + 1];
    const from = tick(at);
    const ring = Math.floor(tick(plus(at, beats(clickLength))));
    const to = next === undefined ? ring : Math.min(ring, tick(next.at));
    const events = noteEvents(from, to, percussion, first ? keys.first : keys.other, velocity.click);
    return word === null || word === ''
      ? events
      : [{ tick: from, rank: rank.text, bytes: textEvent(0x05, word) }, ...events];
  }),
];

interface PartTrack {
  readonly events: readonly TrackEvent[];
  readonly problems: readonly Problem[];
}

const partTrack = (
  part: MidiExtract['parts'][number],
  notes: readonly NoteEvent[],
  channel: number,
  tick: (at: Beats) => number,
): PartTrack => {
  const events: TrackEvent[] = [{ tick: 0, rank: rank.name, bytes: textEvent(0x03, part.name) }];
  const { program } = part;
  if (program !== null && Number.isInteger(program) && program >= 1 && program <= 128)
    events.push({ tick: 0, rank: rank.program, bytes: [0xc0 | channel, program - 1] });
  let rounded = 0;
  let unpitched = 0;
  let outside = 0;
  for (const { at, length, midi } of notes) {
    const key = midi === null ? keys.unpitched : Math.round(midi);
    if (midi === null) unpitched += 1;
    else if (!Number.isInteger(midi)) rounded += 1;
    if (!(key >= 0 && key <= 127)) {
      outside += 1;
      continue;
    }
    const on = midi === null ? percussion : channel;
    events.push(...noteEvents(tick(at), tick(plus(at, length)), on, key, velocity.note));
  }
  const told = (severity: Severity, code: string, count: number, one: string, several: string): Problem[] =>
    count > 0
      ? [
          problem(
            severity,
            code,
            `${countText(count, 'note', 'notes')} of ${part.name} ${count === 1 ? one : several}.`,
            { part: part.id },
          ),
        ]
      : [];
  const problems = [
    ...told(
      'note',
      'midi-pitch-rounded',
      rounded,
      'stands between two keys and is rounded to the nearer (halves up)',
      'stand between two keys and are rounded to the nearer (halves up)',
    ),
    ...told(
      'note',
      'midi-unpitched',
      unpitched,
      'has no pitch and is written as side stick on the percussion channel',
      'have no pitch and are written as side stick on the percussion channel',
    ),
    ...told(
      'note',
      'midi-pitch-outside',
      outside,
      'lies outside the 128 keys of MIDI and is left out',
      'lie outside the 128 keys of MIDI and are left out',
    ),
  ];
  return { events, problems };
};

/**
 * Writes a drill as a Standard MIDI File. Positions are exact: 10080 ticks to the quarter, or what the music needs (up
 * to 32767). The file's time keeps within 10 microseconds of the timeline's at every bar line, and at every quarter and
 * click where the tempo bends; what MIDI cannot say is told as problems. Only kept notes are written. The same timeline
 * gives the same bytes.
 */
export const writeMidi = (
  timeline: Timeline,
  extract: MidiExtract,
): { readonly bytes: Uint8Array; readonly problems: readonly Problem[] } => {
  const kept = timeline.notes.filter((event) => event.kept);
  const sections = timeline.tempo.sections.map(({ start }) => start);
  const positions = [
    ...timeline.bars.flatMap(({ start, length }) => [start, plus(start, length)]),
    ...timeline.clicks.map(({ at }) => at),
    ...kept.flatMap(({ at, length }) => [at, plus(at, length)]),
  ];
  const end = beats([barsEnd(timeline.bars), ...positions].reduce(F.max, F.zero));
  const {
    ticksPerQuarter,
    tick,
    problems: scaleProblems,
  } = tickScale([...positions, ...sections.filter((start) => F.less(start, end))]);
  const metres = metreEvents(timeline.bars, tick);
  const tempi = tempoEvents(timeline, end, tick);
  const byPart = new Map<string, NoteEvent[]>(extract.parts.map(({ id }) => [id, []]));
  let strangers = 0;
  for (const event of kept) {
    const notes = byPart.get(event.part);
    if (notes === undefined) strangers += 1;
    else notes.push(event);
  }
  const parts = extract.parts.map((part, k) =>
    partTrack(part, byPart.get(part.id) ?? [], channels[k % channels.length] ?? 0, tick),
  );
  const problems = [
    ...scaleProblems,
    ...metres.problems,
    ...tempi.problems,
    ...parts.flatMap((part) => part.problems),
  ];
  if (extract.parts.length > channels.length)
    problems.push(
      problem(
        'note',
        'midi-channels-shared',
        `MIDI has ${channels.length} channels for parts: from the ${channels.length + 1}th part on they are shared, and so is their sound.`,
      ),
    );
  if (strangers > 0)
    problems.push(
      problem(
        'note',
        'midi-part-missing',
        `${countText(strangers, 'note belongs to a part', 'notes belong to parts')} that the extract does not name.`,
      ),
    );
  const conductor: TrackEvent[] = [
    { tick: 0, rank: rank.name, bytes: textEvent(0x03, extract.title) },
    ...metres.events,
    ...tempi.events,
  ];
  const tracks = [conductor, clickTrack(timeline.clicks, tick), ...parts.map(({ events }) => events)];
  return { bytes: midiFile(ticksPerQuarter, tracks, tick(end)), problems };
};
