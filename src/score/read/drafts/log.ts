/**
 * Collects what a reader has to say. Single findings are kept one by one up to a limit per code and part and then
 * counted; findings that come in crowds (an element that is not kept, say) are counted from the first.
 */
import {
  notKeptProblem,
  problem,
  timesText,
  type Place,
  type Problem,
  type Severity,
} from '../../../units/index.ts';

/** How many findings of one code and part are told one by one. */
const told = 25;

/** Texts of the file stand inside messages: a message ends here, however long they are. Characters. */
const longest = 500;

interface Tally {
  readonly severity: Severity;
  readonly code: string;
  readonly place: Place;
  readonly words: (count: string) => string;
  count: number;
}

export interface Log {
  /** One finding. */
  say(severity: Severity, code: string, message: string, place?: Place): void;
  /**
   * One of many alike: counted by code, part and subject; told once, at its first bar. `words` gets "3 times", say.
   */
  tally(
    severity: Severity,
    code: string,
    subject: string,
    words: (count: string) => string,
    place: Place,
  ): void;
  /** Everything said so far, single findings first. */
  all(): readonly Problem[];
}

export const createLog = (): Log => {
  const single: Problem[] = [];
  const counts = new Map<string, number>();
  const tallies = new Map<string, Tally>();

  const tally: Log['tally'] = (severity, code, subject, words, place) => {
    const key = `${code}\n${place.part ?? ''}\n${subject}`;
    const known = tallies.get(key);
    if (known === undefined) tallies.set(key, { severity, code, place, words, count: 1 });
    else known.count += 1;
  };
  const say: Log['say'] = (severity, code, words, place = {}) => {
    const message = words.length > longest ? `${words.slice(0, longest)} ...` : words;
    const key = `${code}\n${place.part ?? ''}`;
    const count = (counts.get(key) ?? 0) + 1;
    counts.set(key, count);
    if (count <= told) single.push(problem(severity, code, message, place));
    else tally(severity, code, '', (many) => `The same was found ${many} more from this bar on.`, place);
  };
  return {
    say,
    tally,
    all: () => [
      ...single,
      ...[...tallies.values()].map(({ severity, code, place, words, count }) =>
        problem(severity, code, words(timesText(count)), place),
      ),
    ],
  };
};

/** Tells that something the file holds has no place in the model. */
export const notKept = (log: Log, subject: string, what: string, place: Place): void =>
  log.tally('note', 'not-kept', subject, (many) => notKeptProblem(what, `found ${many}`).message, place);
