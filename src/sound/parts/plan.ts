/** From a timeline to tones: where each note starts and ends, in which voice, how strong. */
import type { NoteEvent, Timeline } from '../../drill/model.ts';
import { plus, samplesAt, type Problem } from '../../units/index.ts';
import { factorOf, hertz } from '../tuning.ts';
import { characters, type Character } from '../voices/character.ts';
import { attack, release } from '../voices/edges.ts';
import { peakOfTone, type Tone } from '../voices/play.ts';
import { silence, tablesOf, type Tables } from '../voices/tables.ts';
import { voiceOf, type PartSound, type VoiceName } from '../voices/voiceOf.ts';
import type { NoteShape } from './shapes.ts';

export interface PlanOptions {
  /** A4 in Hz; checked by the caller. */
  readonly reference: number;
  /** By the id of the timeline's note or else of the score's note; notes without an entry are plain. */
  readonly shapes: ReadonlyMap<string, NoteShape>;
}

export interface Plan {
  /** By start. */
  readonly tones: readonly Tone[];
  /** No sample of all parts together can pass this, at a gain of 1. */
  readonly bound: number;
  /** Voice of each part, in order. */
  readonly voices: readonly VoiceName[];
  readonly problems: readonly Problem[];
}

const plainShape: NoteShape = { share: 1, slurred: false, level: 0 };

/**
 * Seconds of silence by which a tongued or bowed note makes room for the next one, and the share of the note that it
 * takes at most. Common practice, no source.
 */
const room = { seconds: 0.025, share: 0.12 } as const;
/** Seconds by which a slurred note sounds into the next. */
const overlap = 0.012;
/** Seconds that a short note lasts at least, where it is not cut by the next one. */
const least = 0.06;
/** Unpitched strokes ring so many seconds at most. */
const stroke = 0.25;
/** Keys that can be heard as pitches, some octaves beyond any instrument. */
const keys = { lowest: 0, highest: 138 } as const;

interface Placed {
  readonly event: NoteEvent;
  readonly part: number;
  readonly start: number;
  readonly stop: number;
}

const placed = (timeline: Pick<Timeline, 'sampleRate' | 'notes'>, parts: readonly PartSound[]): Placed[] => {
  const order = new Map(parts.map(({ id }, i) => [id, i]));
  return timeline.notes
    .flatMap((event) => {
      const part = order.get(event.part);
      if (part === undefined || !event.kept) return [];
      const start: number = samplesAt(event.time, timeline.sampleRate);
      const stop: number = samplesAt(plus(event.time, event.duration), timeline.sampleRate);
      return stop > start ? [{ event, part, start, stop }] : [];
    })
    .sort((a, b) => a.start - b.start || a.part - b.part);
};

const lastsFor = (rate: number, { start, stop }: Placed, shape: NoteShape, followed: boolean): number => {
  const length = stop - start;
  if (shape.slurred && followed) return length + Math.floor(overlap * rate);
  const short = Math.max(Math.floor(length * shape.share), Math.min(Math.floor(least * rate), length));
  if (shape.share < 1 && short < length) return short;
  const gap = followed ? Math.floor(Math.min(room.seconds * rate, room.share * length)) : 0;
  return Math.max(1, length - gap);
};

/** Largest sum of the peaks of what sounds at once. */
const boundOf = (tones: readonly (Tone & { readonly peak: number })[]): number => {
  const ends = [...tones].sort((a, b) => a.end - b.end);
  let [sum, most, ended] = [0, 0, 0];
  for (const tone of tones) {
    for (let end = ends[ended]; end !== undefined && end.end <= tone.start; end = ends[++ended])
      sum -= end.peak;
    sum += tone.peak;
    most = Math.max(most, sum);
  }
  // Sums and differences of many peaks may be rounded; the bound must not fall below the truth by that.
  return most * (1 + 1e-9);
};

/** Players of the same voice count from 0, so that they can be told apart. */
const variants = (voices: readonly VoiceName[]): readonly number[] =>
  voices.map((voice, i) => voices.slice(0, i).filter((other) => other === voice).length);

/** A struck instrument with a pitch, such as kettledrums, is plucked. */
const characterOf = (voice: VoiceName, key: number | null): Character =>
  key === null ? characters.percussion : voice === 'percussion' ? characters.harp : characters[voice];

/** Works out the tones of all `parts`. Notes that the line filter drops do not sound. */
export const planTones = (
  timeline: Pick<Timeline, 'sampleRate' | 'notes' | 'duration'>,
  parts: readonly PartSound[],
  { reference, shapes }: PlanOptions,
): Plan => {
  const rate = timeline.sampleRate;
  const frames = samplesAt(timeline.duration, rate);
  const found = parts.map(voiceOf);
  const voices = found.map(({ voice }) => voice);
  const variantOf = variants(voices);
  const cache = new Map<string, { frequency: number; tables: Tables }>();
  const edges = new Map<string, Float64Array>();
  const kept = <T>(map: Map<string, T>, key: string, make: () => T): T => {
    const known = map.get(key) ?? make();
    map.set(key, known);
    return known;
  };
  const notes = placed(timeline, parts);
  const starts = new Set(notes.map(({ part, start }) => `${part}:${start}`));
  const slurEnds = new Set<string>();

  const tones = notes.map((item) => {
    const { event, part, start, stop } = item;
    const voice = voices[part] ?? 'clarinet';
    const key = event.midi === null ? null : Math.min(keys.highest, Math.max(keys.lowest, event.midi));
    const character = characterOf(voice, key);
    const shape = shapes.get(event.id) ?? shapes.get(event.note) ?? plainShape;
    const followed = starts.has(`${part}:${stop}`);
    const slurred = slurEnds.has(`${part}:${start}`);
    if (shape.slurred && followed) slurEnds.add(`${part}:${stop}`);
    const variant = variantOf[part] ?? 0;
    const { frequency, tables } = kept(cache, `${voice}:${variant}:${key ?? 'x'}`, () => {
      const pitch = hertz(key ?? 69, reference);
      return { frequency: pitch, tables: key === null ? silence : tablesOf(character, pitch, rate, variant) };
    });
    const wanted = lastsFor(rate, item, shape, followed);
    const end = Math.min(
      frames,
      start + (key === null ? Math.min(wanted, Math.floor(stroke * rate)) : wanted),
    );
    const struck = character.decay > 0;
    // A fade takes a third of a very short note at most.
    const fade = Math.min(
      Math.floor((shape.slurred && followed ? overlap : character.release) * rate),
      Math.floor((end - start) / 3),
    );
    const tone = {
      start,
      end,
      part,
      level: factorOf(shape.level),
      brightness: Math.min(1, Math.max(0.3, 0.75 + shape.level / 16)),
      frequency,
      tables,
      character,
      attack: kept(edges, `a${struck ? 's' : character.swell}`, () => attack(rate, struck, character.swell)),
      release: kept(edges, `r${fade}`, () => release(fade)),
      slurred,
      variant,
    };
    return { ...tone, peak: peakOfTone(tone) };
  });
  return { tones, bound: boundOf(tones), voices, problems: found.flatMap(({ problem }) => problem ?? []) };
};
