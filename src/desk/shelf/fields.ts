/** Fields that records of every kind have. */
import { z } from 'zod';

/** Longest text of a field, in characters. */
const longestText = 2000;

export const text = z.string().max(longestText);

/** Names of records come from programs, not from people. */
export const id = z.string().regex(/^[A-Za-z0-9._-]{1,200}$/);

export const stamps = z
  .record(
    z.string().max(longestText),
    z.tuple([z.int().min(0).max(Number.MAX_SAFE_INTEGER), z.string().max(100)]),
  )
  .describe(
    'When a field was last changed, by its name, or by "field/key" in a field that is merged key by key: a counter that goes up with each change of the record, and a tag of the window that made it. A field without stamp was never changed.',
  );
