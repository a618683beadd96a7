/** How far players sit from the one microphone: kept with the piece, among what sounds. */
import type { Piece } from '../../desk/index.ts';

export const seat = 'seat/';

/** Metres to the microphone, as they were written, by part id. */
export const seatsOf = ({ sound }: Piece): Readonly<Record<string, string>> =>
  Object.fromEntries(
    Object.entries(sound).flatMap(([key, metres]) =>
      key.startsWith(seat) && metres !== '' ? [[key.slice(seat.length), metres]] : [],
    ),
  );

/** Metres as they were written; null where they are none. */
export const metresIn = (text: string): number | null => {
  const metres = Number(text.trim().replace(',', '.'));
  return text.trim() !== '' && metres >= 0 && metres <= 50 ? metres : null;
};
