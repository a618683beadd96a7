/** From checked tracks to events at ticks, and notes with beginning and end. */
import { parseMidi, type MidiEvent } from 'midi-file';
import { Refusal } from '../../../units/index.ts';
import type { CheckedFile } from './chunks.ts';

export interface RawNote {
  readonly from: number;
  readonly to: number;
  /** MIDI key number. */
  readonly key: number;
}

/** The notes of one channel of one track. */
export interface RawPart {
  readonly track: number;
  /** From 0. */
  readonly channel: number;
  /** From 1; null where none is named before the first note. */
  readonly program: number | null;
  readonly notes: readonly RawNote[];
}

export interface Timed<T> {
  readonly tick: number;
  readonly value: T;
}

export interface RawMidi {
  readonly parts: readonly RawPart[];
  /** Names by track: the track's, else the instrument's, else empty. */
  readonly names: readonly string[];
  readonly metres: readonly Timed<{ readonly numerator: number; readonly denominator: number }>[];
  readonly keys: readonly Timed<{ readonly fifths: number; readonly mode: string }>[];
  /** Microseconds per quarter. */
  readonly tempi: readonly Timed<number>[];
  readonly markers: readonly Timed<string>[];
  readonly lyrics: readonly (Timed<string> & { readonly track: number })[];
  /** The last tick of any track. */
  readonly end: number;
  readonly counts: Readonly<Record<CountName, number>>;
}

export type CountName =
  'notes' | 'unclosed' | 'unopened' | 'crowded' | 'controllers' | 'bends' | 'programs' | 'texts' | 'badKeys';

/** Notes in one file; a long opera has about half as many. */
const maximumNotes = 200_000;
/** How often one key of one channel may be struck before it is let go. */
const mostHeld = 16;

/**
 * The library hands texts back byte by byte as code points below 256. The bytes are read as UTF-8 where they are that,
 * else as Latin-1, which is what older programs write.
 */
const textOf = (mangled: string): string => {
  const bytes = Uint8Array.from(mangled, (character) => character.charCodeAt(0) & 0xff);
  return decoded(bytes, mangled).replace(control, ' ').trim();
};

const control = /[\u0000-\u001f\u007f-\u009f]/g;

const decoded = (bytes: Uint8Array, latin: string): string => {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return latin;
  }
};

const decode = (track: Uint8Array): readonly MidiEvent[] => {
  try {
    return parseMidi(track).tracks[0] ?? [];
  } catch {
    // Tracks are checked before, so this is a rule that the library has and the standard has not.
    throw new Refusal('midi-unreadable', 'A track of the MIDI file cannot be decoded.');
  }
};

interface Held {
  readonly from: number[];
}

/** Gathers what one file says. */
class Gatherer {
  readonly parts = new Map<
    string,
    { program: number | null; notes: RawNote[]; track: number; channel: number }
  >();
  readonly names: string[] = [];
  readonly metres: Timed<{ numerator: number; denominator: number }>[] = [];
  readonly keys: Timed<{ fifths: number; mode: string }>[] = [];
  readonly tempi: Timed<number>[] = [];
  readonly markers: Timed<string>[] = [];
  readonly lyrics: (Timed<string> & { track: number })[] = [];
  readonly counts: Record<CountName, number> = {
    notes: 0,
    unclosed: 0,
    unopened: 0,
    crowded: 0,
    controllers: 0,
    bends: 0,
    programs: 0,
    texts: 0,
    badKeys: 0,
  };
  end = 0;

  track(events: readonly MidiEvent[], track: number): void {
    const held = new Map<number, Held>();
    let name = '';
    let instrument = '';
    let tick = 0;
    for (const event of events) {
      tick += event.deltaTime;
      switch (event.type) {
        case 'trackName':
          name ||= textOf(event.text);
          break;
        case 'instrumentName':
          instrument ||= textOf(event.text);
          break;
        case 'noteOn':
          this.#on(held, track, event.channel, event.noteNumber, tick);
          break;
        case 'noteOff':
          this.#off(held, track, event.channel, event.noteNumber, tick);
          break;
        case 'programChange':
          this.#program(track, event.channel, event.programNumber + 1);
          break;
        case 'timeSignature':
          this.metres.push({ tick, value: { numerator: event.numerator, denominator: event.denominator } });
          break;
        case 'keySignature':
          if (Math.abs(event.key) > 7 || event.scale > 1) this.counts.badKeys += 1;
          else
            this.keys.push({
              tick,
              value: { fifths: event.key, mode: event.scale === 1 ? 'minor' : 'major' },
            });
          break;
        case 'setTempo':
          this.tempi.push({ tick, value: event.microsecondsPerBeat });
          break;
        case 'marker':
          this.markers.push({ tick, value: textOf(event.text) });
          break;
        case 'lyrics':
          this.lyrics.push({ tick, value: textOf(event.text), track });
          break;
        case 'text':
        case 'copyrightNotice':
        case 'cuePoint':
          if (event.text !== '') this.counts.texts += 1;
          break;
        case 'pitchBend':
          this.counts.bends += 1;
          break;
        case 'controller':
        case 'noteAftertouch':
        case 'channelAftertouch':
          this.counts.controllers += 1;
          break;
        case 'channelPrefix':
        case 'endOfTrack':
        // The checks let none of these through.
        case 'sequenceNumber':
        case 'portPrefix':
        case 'smpteOffset':
        case 'sequencerSpecific':
        case 'unknownMeta':
        case 'sysEx':
        case 'endSysEx':
          break;
      }
    }
    for (const [slot, { from }] of held) {
      for (const start of from) {
        this.counts.unclosed += 1;
        this.#part(track, slot >> 7).notes.push({ from: start, to: tick, key: slot & 0x7f });
      }
    }
    this.names.push(name === '' ? instrument : name);
    this.end = Math.max(this.end, tick);
  }

  #part(track: number, channel: number) {
    const id = `${track}/${channel}`;
    const part = this.parts.get(id) ?? { program: null, notes: [], track, channel };
    this.parts.set(id, part);
    return part;
  }

  #on(held: Map<number, Held>, track: number, channel: number, key: number, tick: number): void {
    this.counts.notes += 1;
    if (this.counts.notes > maximumNotes)
      throw new Refusal('file-too-large', `The file has more than ${maximumNotes} notes, so it is not read.`);
    this.#part(track, channel);
    const slot = channel * 128 + key;
    const waiting = held.get(slot) ?? { from: [] };
    held.set(slot, waiting);
    if (waiting.from.length >= mostHeld) {
      this.counts.crowded += 1;
      this.#off(held, track, channel, key, tick);
    }
    waiting.from.push(tick);
  }

  /** A note-off ends the note of its key that began first. */
  #off(held: Map<number, Held>, track: number, channel: number, key: number, tick: number): void {
    const start = held.get(channel * 128 + key)?.from.shift();
    if (start === undefined) this.counts.unopened += 1;
    else this.#part(track, channel).notes.push({ from: start, to: tick, key });
  }

  #program(track: number, channel: number, program: number): void {
    const known = this.parts.get(`${track}/${channel}`);
    if (known === undefined) this.#part(track, channel).program = program;
    else if (known.program !== null && known.program !== program) this.counts.programs += 1;
    else known.program = program;
  }
}

/** Everything in the file that bears on the score. Throws Refusal, for `refusable`, where there is too much of it. */
export const gather = ({ tracks }: CheckedFile): RawMidi => {
  const gatherer = new Gatherer();
  tracks.forEach((track, index) => gatherer.track(decode(track), index));
  const byTick = (a: Timed<unknown>, b: Timed<unknown>) => a.tick - b.tick;
  return {
    parts: [...gatherer.parts.values()].filter(({ notes }) => notes.length > 0),
    names: gatherer.names,
    metres: gatherer.metres.sort(byTick),
    keys: gatherer.keys.sort(byTick),
    tempi: gatherer.tempi.sort(byTick),
    markers: gatherer.markers.sort(byTick),
    lyrics: gatherer.lyrics.sort(byTick),
    end: gatherer.end,
    counts: gatherer.counts,
  };
};
