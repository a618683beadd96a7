/** What stood on the stand in this window: the piece, and what was asked of it. */
import { setTabNote, tabNote } from '../../host/browser/index.ts';
import type { Asked } from '../asked.ts';
import { askedFrom } from './settings.ts';

const note = 'place';

export const notePlace = (piece: string, asked: Asked): void =>
  setTabNote(note, JSON.stringify({ piece, asked }));

export const forgetPlace = (): void => setTabNote(note, null);

/** Null in a new window, and where the note is damaged. */
export const lastPlace = (): { readonly piece: string; readonly asked: Asked | undefined } | null => {
  try {
    const json: unknown = JSON.parse(tabNote(note) ?? 'null');
    return typeof json === 'object' && json !== null && 'piece' in json && typeof json.piece === 'string'
      ? { piece: json.piece, asked: askedFrom('asked' in json ? json.asked : null) }
      : null;
  } catch {
    return null;
  }
};
