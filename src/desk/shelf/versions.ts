/** Formats with versions: an older one is brought up to date step by step, a newer one is told apart from a damaged one. */
import type { z } from 'zod';
import { isPlain, type Plain } from './formats.ts';

export interface Format<T> {
  /** "levare.piece"; the version follows after a slash. */
  readonly name: string;
  /** The version that this program writes. */
  readonly version: number;
  readonly schema: z.ZodType<T>;
  /** Brings data of one version to the next, by the version that it starts from. It sets `format` itself. */
  readonly upgraders: ReadonlyMap<number, (older: Plain) => Plain>;
}

export type ReadVersion<T> =
  | { readonly kind: 'read'; readonly value: T; readonly from: number }
  /** Of another format, or of none. */
  | { readonly kind: 'other' }
  | { readonly kind: 'newer'; readonly version: number }
  /** `field`: where; `why`: in the checker's words. */
  | { readonly kind: 'damaged'; readonly field: string; readonly why: string };

/** Name and version that data says of itself; null where it says none. */
export const formatOf = (json: unknown): { readonly name: string; readonly version: number } | null => {
  if (!isPlain(json) || typeof json['format'] !== 'string') return null;
  const match = /^(levare\.[a-z-]{1,40})\/(\d{1,9})$/.exec(json['format']);
  return match === null ? null : { name: match[1] ?? '', version: Number(match[2]) };
};

/** Reads data of one format in any version that there has been. */
export const readVersion = <T>(format: Format<T>, json: unknown): ReadVersion<T> => {
  const said = formatOf(json);
  if (said?.name !== format.name || !isPlain(json)) return { kind: 'other' };
  const { version } = said;
  if (version > format.version) return { kind: 'newer', version };
  let current = json;
  for (let from = version; from < format.version; from += 1) {
    const upgrade = format.upgraders.get(from);
    if (upgrade === undefined)
      return { kind: 'damaged', field: 'format', why: `there has never been a version ${version}` };
    current = upgrade(current);
  }
  const read = format.schema.safeParse(current);
  if (read.success) return { kind: 'read', value: read.data, from: version };
  const [issue] = read.error.issues;
  return {
    kind: 'damaged',
    field: issue?.path.map(String).join('.') ?? '',
    why: issue?.message ?? 'unknown',
  };
};
