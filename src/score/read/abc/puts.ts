/** Things without length, each as what puts it into its bar once its position is known. */
import { beats, bpm, F, type Fraction } from '../../../units/index.ts';
import { metreText, type Metre } from '../../metre.ts';
import type { Direction, Key, Mark } from '../../model.ts';
import type { JumpDraft, MeasureDraft, MetreDraft } from '../drafts/draft.ts';
import { jumpOfWords } from '../drafts/jumpWords.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { isTempoWords } from '../drafts/tempoWords.ts';
import type { Put } from './events.ts';
import type { KeySignature } from './key.ts';
import type { ClefShape } from './properties.ts';
import type { Voice } from './voice.ts';

/** What a voice itself put at a place of a bar before: a second one there takes its place. */
interface Placed<T> {
  readonly out: MeasureDraft;
  readonly at: Fraction;
  readonly item: T;
}
const placedKeys = new WeakMap<Voice, Placed<Key>>();
const placedMetres = new WeakMap<Voice, Placed<MetreDraft>>();

/** Takes back what the voice put at the same place. */
const takeBack = <T>(placed: Placed<T> | undefined, list: T[], out: MeasureDraft, at: Fraction): void => {
  const index = placed?.out === out && F.equal(placed.at, at) ? list.indexOf(placed.item) : -1;
  if (index >= 0) list.splice(index, 1);
};

/** Voices of one part state the same metre once. */
export const putMetre = (voice: Voice, value: Metre, log: Log): void => {
  voice.put((at, out) => {
    takeBack(placedMetres.get(voice), out.metres, out, at);
    const known = out.metres.find((one) => F.equal(one.at, at));
    if (known === undefined) {
      const item = { at, metre: value };
      out.metres.push(item);
      placedMetres.set(voice, { out, at, item });
    } else if (metreText(known.metre) !== metreText(value))
      log.say(
        'repair',
        'metre-differs',
        `A voice is in ${metreText(value)} while another of its part is in ${metreText(known.metre)}; bars are counted in ${metreText(known.metre)}.`,
        { bar: out.number },
      );
  });
};

/** A key for the part, or for this staff alone where another of its staves has another. */
export const putKey = (voice: Voice, { fifths, mode }: KeySignature, log: Log): void => {
  voice.put((at, out, { staff }) => {
    // Drums have no key, though the header gives one to all.
    if (voice.clef.sign === 'percussion' && fifths !== 0) return;
    takeBack(placedKeys.get(voice), out.keys, out, at);
    if (fifths === null) {
      notKept(log, 'key', 'A key signature that is no row of sharps or flats in the usual order', {
        bar: out.number,
      });
      return;
    }
    const here = out.keys.filter((key) => F.equal(key.at, at));
    if (here.some((key) => key.staff === staff || (key.staff === null && key.fifths === fifths))) return;
    const item: Key = { at, staff: here.length === 0 ? null : staff, fifths, mode };
    out.keys.push(item);
    placedKeys.set(voice, { out, at, item });
  });
};

/** The clef of a staff: of several at one place the last counts. */
export const clef =
  ({ sign, line, octave }: ClefShape): Put =>
  (at, out, { staff }) => {
    const known = out.clefs.findIndex((one) => one.staff === staff && F.equal(one.at, at));
    const entry = { at, staff, sign, line, octave };
    if (known < 0) out.clefs.push(entry);
    else out.clefs[known] = entry;
  };

/** From written to sounding pitch as the voice has it now. Steps are the nearest: 7 of them make 12 semitones. */
export const transposition = (voice: Voice, log: Log): Put => {
  const own = voice.transpose + voice.midiTranspose;
  const lower = voice.drawnLower;
  const diatonic = Math.round((own * 7) / 12) + 7 * lower;
  const chromatic = own + 12 * lower;
  return (at, out) => {
    const known = out.transpositions.findIndex((one) => F.equal(one.at, at));
    if (own % 12 !== 0)
      log.tally(
        'assumption',
        'transpose-steps-missing',
        '',
        () =>
          'A transposition tells its semitones but not its steps; the usual interval of that size is taken.',
        { bar: out.number },
      );
    if (known < 0) out.transpositions.push({ at, diatonic, chromatic });
    else out.transpositions[known] = { at, diatonic, chromatic };
  };
};

const mark =
  (make: (at: ReturnType<typeof beats>, bar: number) => Mark, vague: string | null = null): Put =>
  (at, out, { bar }) => {
    out.marks.push({ mark: make(at, bar), vague });
  };

export const tempo = (unit: Fraction, perMinute: Fraction, vague: string | null): Put =>
  mark(
    (at, bar) => ({ kind: 'tempo', at, bar, unit: beats(unit), perMinute: bpm(perMinute), printed: true }),
    vague,
  );

export const tempoWords = (text: string): Put => mark((at, bar) => ({ kind: 'tempoWords', at, bar, text }));
export const rehearsal = (text: string): Put => mark((at, bar) => ({ kind: 'rehearsal', at, bar, text }));

export const direction =
  (kind: Direction['kind'], value: string, above: boolean): Put =>
  (at, out, { bar, staff }) => {
    out.directions.push({ at, bar, staff, kind, value, number: 1, above });
  };

export const jump =
  (kind: JumpDraft['kind'], from: JumpDraft['from'], text: string): Put =>
  (at, out) => {
    out.jumps.push({ at, kind, name: '', from, text });
  };

/** Words at a place: tempo words hold for everyone, "D.C." is followed, all others stay with their part. */
export const words = (text: string, above: boolean): Put => {
  const to = jumpOfWords(text);
  if (to !== null) {
    const asJump = jump(to, 'words', text);
    const asWords = direction('words', text, above);
    return (at, out, spot) => {
      asJump(at, out, spot);
      asWords(at, out, spot);
    };
  }
  return isTempoWords(text) ? tempoWords(text) : direction('words', text, above);
};
