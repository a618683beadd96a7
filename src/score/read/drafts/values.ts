/** Note values, and what no length or position of a score comes near. */
import { beats, F, Refusal, type Beats, type Fraction, type Place } from '../../../units/index.ts';
import { noteTypes, type NoteType, type NoteValue } from '../../notes.ts';

const isNoteType = (text: string): text is NoteType => noteTypes.some((type) => type === text);

/** Null for a value that the standard does not know. */
export const noteType = (text: string): NoteType | null => (isNoteType(text) ? text : null);

/** A maxima lasts 8 whole notes, each next type half of the one before; a dot adds half of what the last added. */
export const valueLength = ({ type, dots }: NoteValue): Beats => {
  const power = noteTypes.indexOf(type);
  const plain = F.fraction(8n, 1n << BigInt(power));
  // With n dots the length is (2 - 1/2^n) times the plain one.
  const factor = F.fraction((2n << BigInt(dots)) - 1n, 1n << BigInt(dots));
  return beats(F.mul(plain, factor));
};

/** Longest single duration that is believed, in whole notes: a slip of digits should not make a bar of hours. */
export const longestDuration: Fraction = F.fraction(1024);

/** Largest denominator of a position: real scores need fewer than ten digits. */
const finest = 10n ** 80n;

/**
 * Throws Refusal `divisions-absurd` where positions become so fine that only a file made to harm can mean it: thousands
 * of changes of divisions, each by another prime number, would make the fractions grow without end.
 */
export const refuseTooFine = (position: Fraction, place: Place): void => {
  if (position.d > finest)
    throw new Refusal(
      'divisions-absurd',
      'The file divides its quarters in so many different ways that no common unit of time can be found. It is damaged.',
      place,
    );
};
