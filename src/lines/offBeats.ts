/**
 * After-beats and weak beats: for two bars or more a player strikes only the second half of the beats (in compound time: the second and last third), or only whole beats other than the first (2 and 4; in three 2 and 3), at least half of those that there are, and holds none over
 * the next beat; while somebody else strikes at least half of the beats (the down-beat, for weak beats). Common practice; our thresholds.
 */
import { noFacts, type Place } from './model.ts';
import { idsOf } from './moments.ts';
import { strikeAt, strikesIn, type BarTicks, type Music, type Player, type Strike } from './music.ts';
import { spotOf } from './spot.ts';

const leastBars = 2;

type Kind = 'after-beats' | 'weak-beats';

const kindOf = (music: Music, bar: BarTicks, strikes: readonly Strike[]): Kind | null => {
  const beats = bar.beats;
  const ends = [...beats.slice(1), bar.end];
  const compound = music.grids[bar.index]?.compound === true;
  if (strikes.length === 0 || beats.length < 2) return null;
  const within = strikes.map(({ at, end }) => {
    const beat = beats.findLastIndex((one) => one <= at);
    const length = (ends[beat] ?? at) - (beats[beat] ?? at);
    return { beat, part: (at - (beats[beat] ?? at)) / length, held: end > (ends[beat] ?? end) };
  });
  if (within.some(({ held }) => held)) return null;
  const after = within.every(({ part }) => (compound ? part === 1 / 3 || part === 2 / 3 : part === 1 / 2));
  if (after && new Set(within.map(({ beat }) => beat)).size * 2 >= beats.length) return 'after-beats';
  const weak = within.every(
    ({ part, beat }) => part === 0 && beat > 0 && (beats.length % 2 === 1 || beat % 2 === 1),
  );
  const possible = beats.length % 2 === 1 ? beats.length - 1 : beats.length / 2;
  return weak && strikes.length * 2 > possible && beats.length > 2 ? 'weak-beats' : null;
};

const supported = (music: Music, bar: BarTicks, player: Player, kind: Kind): boolean => {
  const beats = kind === 'weak-beats' ? [bar.start] : bar.beats;
  return music.players.some(
    (other) =>
      other !== player &&
      beats.filter((at) => strikeAt(other.strikes, at) !== null).length * 2 >= beats.length,
  );
};

interface Run {
  readonly player: number;
  readonly kind: Kind;
  readonly strikes: readonly Strike[];
  readonly bars: readonly number[];
}

/** After-beats at the end of the bar before belong to them, two at least. */
const withLeadIn = (music: Music, player: Player, run: Run): Run => {
  const bar = music.bars[(run.bars[0] ?? 0) - 1];
  if (
    bar === undefined ||
    run.kind !== 'after-beats' ||
    music.stretch[bar.index] !== music.stretch[bar.index + 1]
  )
    return run;
  const beats = bar.beats;
  const row = strikesIn(player.strikes, bar.start, bar.end);
  const lead = row.slice(row.findLastIndex(({ at }) => beats.includes(at)) + 1);
  return lead.length >= 2 &&
    kindOf(music, bar, lead) !== 'weak-beats' &&
    lead.every(({ at }) => !beats.includes(at))
    ? { ...run, strikes: [...lead, ...run.strikes] }
    : run;
};

const runsOf = (music: Music, player: Player): readonly Run[] => {
  const runs: Run[] = [];
  for (const bar of music.bars) {
    const strikes = strikesIn(player.strikes, bar.start, bar.end);
    const found = kindOf(music, bar, strikes);
    if (found === null || !supported(music, bar, player, found)) continue;
    const last = runs.at(-1);
    if (last?.kind === found && last.bars.at(-1) === bar.index - 1)
      runs[runs.length - 1] = {
        ...last,
        strikes: [...last.strikes, ...strikes],
        bars: [...last.bars, bar.index],
      };
    else runs.push({ player: player.index, kind: found, strikes, bars: [bar.index] });
  }
  return runs.filter(({ bars }) => bars.length >= leastBars).map((run) => withLeadIn(music, player, run));
};

export const offBeats = (music: Music): readonly Place[] => {
  const groups = new Map<string, Run[]>();
  for (const run of music.players.flatMap((player) => runsOf(music, player))) {
    const key = `${run.kind} ${run.bars[0] ?? 0} ${run.bars.at(-1) ?? 0}`;
    groups.set(key, [...(groups.get(key) ?? []), run]);
  }
  return [...groups.values()].flatMap((runs): Place[] => {
    const all = runs.flatMap(({ strikes }) => strikes).sort((a, b) => a.at - b.at);
    const [first, last, kind] = [all[0], all.at(-1), runs[0]?.kind];
    if (first === undefined || last === undefined || kind === undefined) return [];
    const parts = idsOf(
      music,
      runs.map(({ player }) => player),
    );
    const facts = { ...noFacts, count: all.length };
    return [
      { kind, value: null, parts, from: spotOf(music, first), to: spotOf(music, last), seams: [], facts },
    ];
  });
};
