/** A table of onsets read: how far apart the players are, who leads, what the tempo does. */
import type { Reading } from '../together/format.ts';
import { readingOf } from '../together/reading.ts';
import { readOnsetTable } from '../together/table.ts';
import { fail, ok, type Problem, type Result } from '../units/index.ts';

/** The printed format "levare.together/1"; its JSON schema is in docs/schemas. */
export type Together = Reading & { readonly problems: readonly Problem[] };

export interface TogetherTexts {
  /** Standard deviation of the measuring error of one onset, in milliseconds, as typed; null where it is not known. */
  readonly noise: string | null;
  /** Names of the columns that are players, with commas; null: as the table shows. */
  readonly players: string | null;
}

/**
 * Statistics of a plain table (docs/formats/together.md), UTF-8 or Latin-1. Errors: those of `readOnsetTable`;
 * `noise-unreadable`; `table-not-text` for what holds zero bytes.
 */
export const together = (bytes: Uint8Array, { noise, players }: TogetherTexts): Result<Together> => {
  const noiseMs =
    noise === null ? null : /^\d+([.,]\d+)?$/.test(noise) ? Number(noise.replace(',', '.')) : NaN;
  if (noiseMs !== null && !(noiseMs <= 1000)) {
    return fail('noise-unreadable', `--noise ${noise ?? ''} is no figure: give milliseconds from 0 to 1000.`);
  }
  if (bytes.includes(0)) {
    return fail('table-not-text', 'This is no plain table: it holds bytes that no text has. Save it as CSV.');
  }
  const text = decoded(bytes);
  const names = players === null ? null : players.split(',').map((name) => name.trim());
  const table = readOnsetTable(text, { players: names });
  if (!table.ok) return table;
  const { reading, problems } = readingOf(table.value, noiseMs);
  return ok({ ...reading, problems: [...table.problems, ...problems] });
};

const decoded = (bytes: Uint8Array): string => {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
};
