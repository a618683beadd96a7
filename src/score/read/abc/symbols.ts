/** Decorations by name, and the letters that stand for them. Source: ABC 2.1, sections 4.14 and 4.16. */
import type { Direction, Jump } from '../../model.ts';

export type Decoration = {
  /** What of it has no place in the model. */
  readonly unkept?: string;
} & (
  | { readonly kind: 'articulation' | 'ornament'; readonly names: readonly string[] }
  | { readonly kind: 'technical'; readonly name: string; readonly text: string }
  | { readonly kind: 'fermata' | 'arpeggio' | 'nothing' }
  | {
      readonly kind: 'direction';
      readonly direction: Direction['kind'];
      readonly value: string;
      readonly above: boolean;
    }
  | {
      readonly kind: 'jump';
      readonly jump: Jump['kind'];
      readonly from: 'sign' | 'words';
      readonly text: string;
    }
);

const articulation = (name: string): Decoration => ({ kind: 'articulation', names: [name] });
const ornament = (...names: string[]): Decoration => ({ kind: 'ornament', names });
const technical = (name: string, text = ''): Decoration => ({ kind: 'technical', name, text });
const direction = (kind: Direction['kind'], value: string, above = false): Decoration => ({
  kind: 'direction',
  direction: kind,
  value,
  above,
});
const jump = (kind: Jump['kind'], from: 'sign' | 'words', text: string): Decoration => ({
  kind: 'jump',
  jump: kind,
  from,
  text,
});
const unkept = (what: string): Decoration => ({ kind: 'nothing', unkept: what });
const slashed: Decoration = { ...ornament('turn'), unkept: 'The stroke through a turn' };
const phrase = unkept('A phrase mark');
const crescendo = direction('wedge', 'crescendo');
const diminuendo = direction('wedge', 'diminuendo');
const wedgeEnd = direction('wedge', 'stop');
const mordent = ornament('mordent');
const inverted = ornament('inverted-mordent');
const accent = articulation('accent');
const tremolo: Decoration = {
  ...ornament('tremolo'),
  unkept: 'How many strokes a tremolo has and to which note it goes',
};

const known: Readonly<Record<string, Decoration>> = {
  trill: ornament('trill-mark'),
  'trill(': ornament('trill-mark', 'wavy-line'),
  'trill)': ornament('wavy-line'),
  lowermordent: mordent,
  mordent,
  uppermordent: inverted,
  pralltriller: inverted,
  roll: ornament('roll'),
  turn: ornament('turn'),
  turnx: slashed,
  invertedturn: ornament('inverted-turn'),
  invertedturnx: { ...ornament('inverted-turn'), unkept: 'The stroke through a turn' },
  arpeggio: { kind: 'arpeggio' },
  '>': accent,
  accent,
  emphasis: accent,
  fermata: { kind: 'fermata' },
  invertedfermata: { kind: 'fermata', unkept: 'That a fermata stands below the staff' },
  tenuto: articulation('tenuto'),
  '+': technical('stopped'),
  plus: technical('stopped'),
  snap: technical('snap-pizzicato'),
  slide: articulation('scoop'),
  wedge: articulation('staccatissimo'),
  upbow: technical('up-bow'),
  downbow: technical('down-bow'),
  open: technical('open-string'),
  thumb: technical('thumb-position'),
  breath: articulation('breath-mark'),
  'crescendo(': crescendo,
  '<(': crescendo,
  'crescendo)': wedgeEnd,
  '<)': wedgeEnd,
  'diminuendo(': diminuendo,
  '>(': diminuendo,
  'diminuendo)': wedgeEnd,
  '>)': wedgeEnd,
  segno: jump('segno', 'sign', 'the segno sign'),
  coda: jump('coda', 'sign', 'the coda sign'),
  'D.S.': jump('dalSegno', 'words', 'D.S.'),
  'D.C.': jump('daCapo', 'words', 'D.C.'),
  dacoda: jump('toCoda', 'words', 'Da Coda'),
  dacapo: jump('daCapo', 'words', 'Da Capo'),
  fine: jump('fine', 'words', 'Fine'),
  shortphrase: phrase,
  mediumphrase: phrase,
  longphrase: phrase,
  nil: { kind: 'nothing' },
  none: { kind: 'nothing' },
  // Beyond ABC 2.1, from its drafts and from what is met with; from memory, no source read.
  'D.S.alcoda': jump('dalSegno', 'words', 'D.S. al Coda'),
  'D.S.alfine': jump('dalSegno', 'words', 'D.S. al Fine'),
  'D.C.alcoda': jump('daCapo', 'words', 'D.C. al Coda'),
  'D.C.alfine': jump('daCapo', 'words', 'D.C. al Fine'),
  tocoda: jump('toCoda', 'words', 'To Coda'),
  '^': articulation('strong-accent'),
  marcato: articulation('strong-accent'),
  staccato: articulation('staccato'),
  caesura: articulation('caesura'),
  '/': tremolo,
  '//': tremolo,
  '///': tremolo,
  '////': tremolo,
  '8va(': direction('octaveShift', 'down 8', true),
  '8va)': direction('octaveShift', 'stop', true),
  '8vb(': direction('octaveShift', 'up 8'),
  '8vb)': direction('octaveShift', 'stop'),
  '15ma(': direction('octaveShift', 'down 15', true),
  '15ma)': direction('octaveShift', 'stop', true),
  '15mb(': direction('octaveShift', 'up 15'),
  '15mb)': direction('octaveShift', 'stop'),
  ped: direction('pedal', 'start'),
  'ped-up': direction('pedal', 'stop'),
  courtesy: unkept('That an accidental is one of courtesy'),
  editorial: unkept('That an accidental is editorial'),
};

const dynamics = /^(p{1,6}|f{1,6}|m[pf]|sf|sfz|sffz|sfp|fp|fz|rf|rfz|n)$/;

/** The decoration of this name; null for one that is not known. */
export const decorationOf = (name: string): Decoration | null => {
  if (Object.hasOwn(known, name)) return known[name] ?? null;
  if (dynamics.test(name)) return direction('dynamics', name);
  if (/^[0-5]$/.test(name)) return technical('fingering', name);
  return null;
};

/** Letters and what they stand for until U: says otherwise. */
export const standardLetters: readonly (readonly [string, string])[] = [
  ['~', '!roll!'],
  ['H', '!fermata!'],
  ['L', '!accent!'],
  ['M', '!lowermordent!'],
  ['O', '!coda!'],
  ['P', '!uppermordent!'],
  ['S', '!segno!'],
  ['T', '!trill!'],
  ['u', '!upbow!'],
  ['v', '!downbow!'],
];
