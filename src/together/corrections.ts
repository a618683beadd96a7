/** The correction gains of everyone in an ensemble. */
import { correctionOf, type Correction } from './correction.ts';
import type { Place, Player } from './model.ts';

export interface PlayerCorrection {
  readonly part: string;
  /** Names of those towards whom the gains are, in their order. */
  readonly to: readonly string[];
  readonly correction: Correction;
}

/**
 * The gains of each player: towards all others at once where they play enough together, else towards one at a time. Players
 * for whom nothing can be told are left out (see `correctionGains`).
 */
export const correctionsOf = (
  players: readonly Player[],
  places: readonly Place[],
): readonly PlayerCorrection[] =>
  players.flatMap((player) => {
    const others = players.filter((other) => other !== player);
    const one = (to: readonly Player[]): readonly PlayerCorrection[] => {
      const correction = correctionOf(
        player.onsets,
        to.map(({ onsets }) => onsets),
        places,
      );
      return correction === null ? [] : [{ part: player.name, to: to.map(({ name }) => name), correction }];
    };
    if (others.length === 0) return [];
    const all = one(others);
    return all.length > 0 || others.length === 1 ? all : others.flatMap((other) => one([other]));
  });
