/** In which register the click is heard best: the one that the passage itself uses least. */
import type { NoteEvent } from '../drill/model.ts';
import { F } from '../units/index.ts';
import { clickPartials, leastRateForHigh, type ClickRegister } from './click.ts';
import { hertz, referencePitches } from './tuning.ts';

/** What the choice is made from. */
export type SoundingNote = Pick<NoteEvent, 'midi' | 'duration' | 'kept'>;

/** Weights of a note's partials from the first on. The fundamental decides; partials are softer. Our choice. */
const weights = [1, 0.15, 0.08, 0.05] as const;

/** Nearer than three semitones (a critical band, about a third of an octave; Zwicker, from memory) a tone covers a click. */
const near = 1.189_207_115_002_721;

/** From 1 for equal frequencies to 0 for those three semitones apart. */
const covering = (a: number, b: number): number => {
  const ratio = a > b ? a / b : b / a;
  return ratio >= near ? 0 : (near - ratio) / (near - 1);
};

/** How much a register is covered: seconds of notes, weighted. */
const covered = (
  register: ClickRegister,
  lengths: ReadonlyMap<number, number>,
  reference: number,
): number => {
  const { beat, 'first beat': first } = clickPartials[register];
  let sum = 0;
  for (const [key, seconds] of lengths) {
    const frequency = hertz(key, reference);
    weights.forEach((weight, i) => {
      for (const partial of [...beat, ...first])
        sum += seconds * weight * partial.amplitude * covering((i + 1) * frequency, partial.frequency);
    });
  }
  return sum;
};

/**
 * The register for a passage, from all notes that sound (pitches at `reference` Hz, 392 to 466). The middle one, unless
 * it is covered by more than a hundredth of the sounding time and another is covered less than two thirds as much. One register for the whole
 * drill, so that the click does not wander.
 */
export const chooseRegister = (
  notes: readonly SoundingNote[],
  sampleRate: number,
  reference: number = referencePitches.usual,
): ClickRegister => {
  const lengths = new Map<number, number>();
  let total = 0;
  for (const { midi, duration, kept } of notes) {
    if (midi === null || !kept || midi < 0 || midi > 138) continue;
    const seconds = F.toNumber(duration);
    total += seconds;
    lengths.set(midi, (lengths.get(midi) ?? 0) + seconds);
  }
  const share = (register: ClickRegister): number => covered(register, lengths, reference);
  const middle = share('middle');
  const others: readonly ClickRegister[] = sampleRate >= leastRateForHigh ? ['high', 'low'] : ['low'];
  const [best] = others
    .map((register) => ({ register, share: share(register) }))
    .sort((a, b) => a.share - b.share);
  return best === undefined || middle <= total / 100 || best.share * 1.5 > middle ? 'middle' : best.register;
};

/** Whether a placement names beats so light that an accent on the first beat would make it heavy, or all of them alike. */
export const isLight = (placement: string): boolean => /^(weak|after|bar|\d+bars)$/.test(placement.trim());
