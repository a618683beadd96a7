/**
 * Segno, coda, da capo and their kin, from all parts. What the file says for playback (`sound`) counts; signs and words
 * that are only printed are followed as a player would, each with an assumption told.
 */
import { F, type Beats } from '../../../units/index.ts';
import type { Jump } from '../../model.ts';
import type { JumpDraft } from './draft.ts';
import type { Log } from './log.ts';
import type { Row } from './metres.ts';

interface Placed {
  readonly jump: JumpDraft;
  readonly bar: number;
  /** The bar in which the file has it. */
  readonly foundIn: number;
}

/** A sign to jump to stands at the start of its bar: one found at the end of a bar belongs to the next. */
const placed = (rows: readonly Row[], lengths: readonly Beats[]): readonly Placed[] =>
  rows.flatMap((row, index) =>
    row.flatMap((draft) =>
      (draft?.jumps ?? []).map((jump): Placed => {
        const target = jump.kind === 'segno' || jump.kind === 'coda';
        const atEnd = F.atMost(lengths[index] ?? F.zero, jump.at);
        return { jump, bar: target && atEnd && index + 1 < rows.length ? index + 1 : index, foundIn: index };
      }),
    ),
  );

const toJump = (kind: Jump['kind'], name: string): Jump =>
  kind === 'daCapo' || kind === 'fine' ? { kind } : { kind, name };

/** Bare coda signs: where two or more stand and nothing says "to coda", the first is where the jump leaves. */
const withLeavingCoda = (printed: readonly Placed[], all: readonly Placed[]): readonly Placed[] => {
  const leaving = all.some(({ jump }) => jump.kind === 'toCoda');
  const signs = printed.filter(({ jump }) => jump.kind === 'coda');
  const bars = new Set(signs.map(({ bar }) => bar));
  const arriving = all.some(({ jump }) => jump.kind === 'coda' && jump.from === 'sound');
  if (leaving || (bars.size < 2 && !(bars.size === 1 && arriving))) return printed;
  const first = [...bars].reduce((least, bar) => Math.min(least, bar), Infinity);
  return printed.map((one) =>
    one.jump.kind === 'coda' && one.bar === first
      ? { ...one, bar: one.foundIn, jump: { ...one.jump, kind: 'toCoda' } }
      : one,
  );
};

/** Each bar's jumps. */
export const jumpsOf = (
  rows: readonly Row[],
  lengths: readonly Beats[],
  numbers: readonly string[],
  log: Log,
): readonly (readonly Jump[])[] => {
  const all = placed(rows, lengths);
  const result = rows.map((): Jump[] => []);
  const kinds = new Set<string>();
  const keys = new Set<string>();
  const add = ({ jump, bar }: Placed): boolean => {
    const key = `${bar} ${jump.kind} ${jump.name}`;
    if (keys.has(key)) return false;
    keys.add(key);
    kinds.add(`${bar} ${jump.kind}`);
    result[bar]?.push(toJump(jump.kind, jump.name));
    return true;
  };
  for (const one of all) {
    if (one.jump.from === 'sound') {
      if (add(one) && (one.jump.kind === 'segno' || one.jump.kind === 'coda')) {
        const inside = F.isPositive(one.jump.at) && F.less(one.jump.at, lengths[one.bar] ?? F.zero);
        if (inside)
          log.say(
            'repair',
            'jump-mid-bar',
            `A ${one.jump.kind} stands inside this bar; it is read at its beginning.`,
            {
              bar: numbers[one.bar] ?? '',
            },
          );
      }
    }
  }
  const printed = all.filter(({ jump, bar }) => {
    if (jump.from === 'sound' || kinds.has(`${bar} ${jump.kind}`)) return false;
    // A coda sign in a bar from which the file jumps to the coda is the sign for leaving.
    return !(jump.kind === 'coda' && (kinds.has(`${bar} toCoda`) || kinds.has(`${bar - 1} toCoda`)));
  });
  for (const one of withLeavingCoda(printed, all)) {
    if (kinds.has(`${one.bar} ${one.jump.kind}`) || !add({ ...one, jump: { ...one.jump, name: '' } }))
      continue;
    log.say(
      'assumption',
      'jump-from-print',
      `The page shows "${one.jump.text}" here, but the file does not say it for playback; it is followed as printed${one.jump.kind === 'toCoda' && one.jump.from === 'sign' ? ', as the place where the jump to the coda leaves' : ''}.`,
      { bar: numbers[one.bar] ?? '' },
    );
  }
  return result;
};
