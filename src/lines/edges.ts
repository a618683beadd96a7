/**
 * Places at the edges of bars, phrases and movements (our definitions, common practice):
 *   - Held over the bar line by one player alone, while at least two others strike the down-beat.
 *   - Phrase starts by upbeat: after a rest of their own, a player strikes alone in the second half of a bar (two beats of three), nobody else
 *     until the bar line, where the same player strikes, and somebody else within the bar; what went before has come to rest: nobody strikes in
 *     the beat before.
 *   - Last notes: the last notes of all who play at the end of a movement, struck together.
 *   - A long note (two beats at least, and eight notes of the run), then at once four notes or more of a quarter of the beat or less.
 */
import { noFacts, type Place, type PlaceKind } from './model.ts';
import { idsOf, type Moment } from './moments.ts';
import {
  barAt,
  lastAt,
  soundsOn,
  strikeAt,
  strikesIn,
  type Music,
  type Player,
  type Strike,
} from './music.ts';
import { spotOf } from './spot.ts';

const placeOf = (
  music: Music,
  kind: PlaceKind,
  players: readonly number[],
  from: Strike,
  to: Strike,
  count = 0,
): Place => ({
  kind,
  value: null,
  parts: idsOf(music, players),
  from: spotOf(music, from),
  to: spotOf(music, to),
  seams: [],
  facts: { ...noFacts, count },
});

export const tiesOverBars = (music: Music): readonly Place[] =>
  music.bars.flatMap(({ index, start }): Place[] => {
    if (index === 0 || music.stretch[index] !== music.stretch[index - 1]) return [];
    const striking = music.players.filter(({ strikes }) => strikeAt(strikes, start) !== null);
    const holding = music.players.filter(
      (player) => !striking.includes(player) && soundsOn(player.strikes, start),
    );
    const [holder, more] = holding;
    if (holder === undefined || more !== undefined || striking.length < 2) return [];
    const held = holder.strikes
      .slice(0, lastAt(holder.strikes, start) + 1)
      .findLast(({ end }) => end > start);
    const down = strikeAt(striking[0]?.strikes ?? [], start);
    if (held === undefined || down === null) return [];
    return [placeOf(music, 'tie-over-bar', [holder.index], held, down)];
  });

const upbeatOf = (music: Music, player: Player, strike: Strike, i: number): Place | null => {
  const bar = barAt(music, strike.at);
  if (bar === null) return null;
  const before = player.strikes[i - 1];
  const rested =
    before === undefined || before.end < strike.at || music.stretch[before.bar] !== music.stretch[bar.index];
  const full = music.grids[bar.index]?.beats.length === 3 ? 2 / 3 : 1 / 2;
  const size = Math.max(bar.end - bar.start, bar.beat);
  const next = music.bars[bar.index + 1];
  if (!rested || next === undefined || strike.at === next.start) return null;
  const pickup = music.score.bars[bar.index]?.pickup === true;
  if (!pickup && bar.end - strike.at > size * full) return null;
  const others = music.players.filter((other) => other !== player);
  if (others.some(({ strikes }) => strikesIn(strikes, strike.at - bar.beat + 1, bar.end).length > 0))
    return null;
  const arrives = strikeAt(player.strikes, bar.end);
  const joined = others.some(({ strikes }) => strikesIn(strikes, bar.end, next.end).length > 0);
  return arrives !== null && joined ? placeOf(music, 'upbeat-start', [player.index], strike, arrives) : null;
};

export const upbeatStarts = (music: Music): readonly Place[] =>
  music.players.length < 2
    ? []
    : music.players.flatMap((player) =>
        player.strikes.flatMap((strike, i) => {
          const place = upbeatOf(music, player, strike, i);
          return place === null ? [] : [place];
        }),
      );

/** The bars with which movements end as they are played: where fine stands, or else the last, unless a da capo or dal segno stands there. */
const endings = ({ score, movementOf }: Music): ReadonlySet<number> => {
  const ends = new Set<number>();
  for (const { index, jumps } of score.bars) {
    const fine = jumps.some(({ kind }) => kind === 'fine');
    const back = jumps.some(({ kind }) => kind === 'daCapo' || kind === 'dalSegno');
    if (fine || (movementOf[index + 1] !== movementOf[index] && !back)) ends.add(index);
  }
  return ends;
};

export const lastNotes = (music: Music, moments: readonly Moment[]): readonly Place[] => {
  const ends = endings(music);
  return moments.flatMap((moment, i): Place[] => {
    const next = moments[i + 1];
    const bar = barAt(music, moment.at)?.index ?? 0;
    const after = next === undefined ? music.bars.length : (barAt(music, next.at)?.index ?? 0);
    // Bars without notes may follow before the end.
    const last = Array.from({ length: after - bar }, (_, k) => bar + k).some((index) => ends.has(index));
    const [first] = moment.strikes.values();
    if (!last || moment.strikes.size < 2 || first === undefined) return [];
    return [placeOf(music, 'last-notes', [...moment.strikes.keys()], first, first, moment.strikes.size)];
  });
};

const leastRun = 4;

export const longNotesThenRuns = (music: Music): readonly Place[] =>
  music.players.flatMap((player) =>
    player.strikes.flatMap((long, i): Place[] => {
      const beat = barAt(music, long.at)?.beat ?? 1;
      const row = player.strikes;
      const [first, second] = [row[i + 1], row[i + 2]];
      if (first === undefined || second === undefined || long.end - long.at < 2 * beat) return [];
      const step = second.at - first.at;
      if (first.at !== long.end || 4 * step > beat || long.end - long.at < 8 * step) return [];
      let last = i + 2;
      while ((row[last + 1]?.at ?? 0) - (row[last]?.at ?? 0) === step) last += 1;
      const arrival = row[last];
      const count = last - i - 1;
      if (arrival === undefined || count < leastRun) return [];
      return [placeOf(music, 'long-note-then-run', [player.index], long, arrival, count)];
    }),
  );
