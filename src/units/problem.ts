/**
 * What a reader or a rule had to repair, assume or refuse, said to the user. `error`: nothing could be made of it.
 * `repair`: the input contradicts itself and was mended as told. `assumption`: the input is silent and a choice was
 * made. `note`: something true that the user would want to know, such as what is kept but not used.
 */
export type Severity = 'error' | 'repair' | 'assumption' | 'note';

export interface Problem {
  /** Stable, the same in every format: lower-case words joined by hyphens, such as "bar-overfull". */
  readonly code: string;
  readonly severity: Severity;
  /** One or two plain sentences: the fact, the value, the likely cause or what was done. */
  readonly message: string;
  /** Id of the part concerned. */
  readonly part?: string;
  /** Printed number of the bar concerned. */
  readonly bar?: string;
  /** Place in a text file, from 1. */
  readonly line?: number;
  readonly column?: number;
}

/** Where a problem lies; all of it optional. */
export type Place = Pick<Problem, 'part' | 'bar' | 'line' | 'column'>;

export const problem = (severity: Severity, code: string, message: string, place: Place = {}): Problem => ({
  code,
  severity,
  message,
  ...place,
});

/** "once", "3 times". */
export const timesText = (count: number): string => (count === 1 ? 'once' : `${count} times`);

/**
 * Something that the file holds and the model, or what is written, has no place for; one code and one wording in every
 * format. `what`: the thing, in the singular, with a capital; `more`: how often it is there, or what becomes of it.
 */
export const notKeptProblem = (what: string, more: string, place: Place = {}): Problem =>
  problem('note', 'not-kept', `${what} is not kept (${more}).`, place);
