import type { Bar, Jump } from '../../model.ts';
import { type Place } from '../../../units/index.ts';
import type { Context } from './context.ts';
import { writeDirection } from './directions.ts';

type NamedJump = Extract<Jump, { readonly name: string }>;
/** The name to be written for a sign or for the jump to it; empty where none would be right. */
export type NameOf = (jump: NamedJump) => string;

const usual = { segno: 'segno', dalSegno: 'segno', coda: 'coda', toCoda: 'coda' } as const;

/**
 * The standard wants a name for each segno and coda, by which jumps find them. Where a score names none of a kind, all of that kind
 * get the usual one; where it names some, the others stay without rather than get a wrong one.
 */
export const jumpNames = (bars: readonly Bar[]): NameOf => {
  const named = new Set<string>();
  for (const { jumps } of bars)
    for (const jump of jumps) if ('name' in jump && jump.name !== '') named.add(usual[jump.kind]);
  return ({ kind, name }) => (name !== '' || named.has(usual[kind]) ? name : usual[kind]);
};

/** How prints word the jumps, anywhere in a line: "Menuetto D.C. senza replica". Common practice, no source. */
const wordings: readonly (readonly [Jump['kind'], RegExp])[] = [
  ['daCapo', /\bd\. ?c\b|\bdc\b|\bda capo\b/],
  ['dalSegno', /\bd\. ?s\b|\bds\b|\bdal segno\b/],
  ['toCoda', /\b(al|to|alla) coda\b/],
  ['fine', /(?<!\bal )\bfine\b/],
  ['coda', /(?<!\b(al|to|alla) )\bcoda\b/],
];

/** The jumps that printed words speak of. */
export const jumpsInWords = (text: string): readonly Jump['kind'][] => {
  const plain = text.toLowerCase().replace(/[\s\u00a0]+/g, ' ');
  return wordings.filter(([, pattern]) => pattern.test(plain)).map(([kind]) => kind);
};

/** The sign or words that a player sees, and the attribute of `sound` by which programs find their way. */
const appearance: Readonly<
  Record<Jump['kind'], { readonly words: string | null; readonly attribute: string }>
> = {
  segno: { words: null, attribute: 'segno' },
  coda: { words: null, attribute: 'coda' },
  dalSegno: { words: 'D.S.', attribute: 'dalsegno' },
  toCoda: { words: 'To Coda', attribute: 'tocoda' },
  daCapo: { words: 'D.C.', attribute: 'dacapo' },
  fine: { words: 'Fine', attribute: 'fine' },
};

/** Signs stand at their bar's start; words act at its end. */
export const atStart = ({ kind }: Jump): boolean => kind === 'segno' || kind === 'coda';

/**
 * Writes one jump with both its sign or words and its meaning (MusicXML 4.0, element sound); with its meaning alone
 * where some part's own directions already say it in words.
 */
export const writeJump = (
  context: Context,
  jump: Jump,
  spoken: boolean,
  nameOf: NameOf,
  place: Place,
): void => {
  const { out } = context;
  const { words, attribute } = appearance[jump.kind];
  const name = 'name' in jump ? context.clean(nameOf(jump), 'The name of a segno or coda', place) : 'yes';
  const sound = name === '' ? null : { [attribute]: name };
  if (spoken) {
    if (sound !== null) out.empty('sound', sound);
    return;
  }
  writeDirection(
    context,
    { above: true, staff: null },
    () =>
      out.within('direction-type', {}, () => {
        if (words === null) out.empty(jump.kind);
        else out.leaf('words', words);
      }),
    sound,
  );
};
