/** Whether a chain of segments is a shared line: rules 2 to 4 of sharedLines.ts. */
import type { Chain } from './chains.ts';
import { companions } from './companions.ts';
import type { Stream } from './handOver.ts';
import { barAt, lastAt, type Strike } from './music.ts';
import { repeats } from './segments.ts';
import { multi, span, turnsOf, type Turn } from './turns.ts';

/** Rule 3. */
const leastPerSide = 4;
/** Rule 4: so many turns are more than accompaniment by themselves. */
const manyTurns = 6;
/** So many notes of others for each of the line are as fast as the line. */
const busy = 0.6;

/** So many values before the first seam and after the last of two are looked at for others who move as fast. */
const nearby = 8;

/** Strikes of a row from one tick to another that are followed by the next no sooner than a value later. */
const slowStrikes = (row: readonly Strike[], from: number, to: number, value: number): number => {
  const first = lastAt(row, from - 1) + 1;
  const last = lastAt(row, to - 1);
  let count = 0;
  for (let i = first; i <= last; i++)
    if ((row[i + 1]?.at ?? Infinity) - (row[i]?.at ?? 0) >= value) count += 1;
  return count;
};

/**
 * Whether nobody but those who run together with it moves in the value of a segment while it lasts; who runs faster still is another layer.
 */
const alone = (stream: Stream, chain: Chain, reach = Infinity): boolean =>
  chain.every(({ segment }, i) => {
    const voice = new Set(companions(stream, segment).map(({ player }) => player));
    const at = i === 0 ? Math.max(segment.at, segment.last - reach) : segment.at;
    const last = i === chain.length - 1 ? Math.min(segment.last, segment.at + reach) : segment.last;
    const most = (busy * (last - at)) / stream.value;
    return stream.music.players.every(
      ({ index, strikes }) =>
        voice.has(index) || slowStrikes(strikes, at, last, stream.value) <= Math.max(1, most),
    );
  });

/** Missing notes inside turns and at seams. */
const missing = (chain: Chain, value: number): number =>
  chain.reduce((sum, { segment, seam }, i) => {
    const before = chain[i - 1]?.segment;
    if (before === undefined) return sum;
    return sum + (seam === null ? 1 : Math.max(0, (segment.at - before.last) / value - 1));
  }, 0);

const handedOnce = (stream: Stream, chain: Chain): boolean => {
  const { music, value } = stream;
  const seam = chain.find((link) => link.seam !== null)?.seam ?? 0;
  if (value >= (barAt(music, seam)?.pulse ?? 1)) return false;
  if (missing(chain, value) > 1) return false;
  if (!turnsOf(chain).every(({ notes }) => notes >= leastPerSide)) return false;
  return alone(stream, chain);
};

const notesOf = ({ links }: Turn): readonly Strike[] => links.flatMap(({ segment }) => segment.notes);

/** Rule 4. Without pitches nothing tells which notes are repeated: a run handed on once then counts as such. */
const mostlyRepeats = (turns: readonly Turn[]): boolean => {
  if (turns.length > 2 && turns.every((turn) => notesOf(turn).every(({ midi }) => midi === null)))
    return false;
  const rows = turns.filter((turn) => repeats(notesOf(turn)));
  return turns.length < manyTurns && 2 * rows.length >= turns.length;
};

export const isLine = (stream: Stream, chain: Chain): boolean => {
  if (new Set(multi(chain).map(({ segment }) => segment.player)).size < 2) return false;
  const turns = turnsOf(chain);
  if (mostlyRepeats(turns)) return false;
  if (turns.length > 3) return true;
  const slow = stream.value >= (barAt(stream.music, span(chain)[0])?.pulse ?? 1);
  if (turns.length === 3) return !slow && alone(stream, chain, nearby * stream.value);
  return turns.length === 2 && handedOnce(stream, chain);
};
