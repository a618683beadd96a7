/** All that the shelf and the settings of a piece say: one table, so that another language can stand beside it. */
import type { Choice } from '../wording.ts';

const counted = (count: number, one: string, several: string): string =>
  `${count} ${count === 1 ? one : several}`;

export const shelfWords = {
  title: 'The shelf',
  toShelf: 'The shelf',
  back: 'Back to the music',
  firstEnsemble: 'Our pieces',
  ensembleName: 'Name of the ensemble',
  newEnsemble: 'New ensemble',
  newEnsembleName: 'A new ensemble',
  add: 'Add',
  empty: 'No pieces yet.',
  untitled: 'Untitled',
  open: (title: string): string => `Open ${title}`,
  about: (title: string): string => `About ${title}`,
  more: 'more',
  shownAs: 'called',
  pieceName: (title: string): string => `Title of ${title}`,
  standsWith: 'stands with',
  moveTo: (title: string): string => `Ensemble that ${title} stands with`,
  takeAlong: 'Take along',
  takePiece: (title: string): string => `Take ${title} along as a file`,
  takeEnsemble: 'Take this ensemble along as a file',
  takeAll: 'Take the whole shelf along as a file',
  remove: 'Remove',
  removePiece: (title: string): string => `Remove ${title}`,
  removeEnsemble: 'Remove this ensemble',
  askRemove: (title: string): string => `Remove “${title}” with all that is kept about it?`,
  askRemoveEnsemble: (name: string, pieces: number): string =>
    `Remove “${name}” with ${counted(pieces, 'piece', 'pieces')}?`,
  reallyRemove: 'Yes, remove',
  keep: 'No, keep',
  removed: (title: string): string => `“${title}” is removed.`,
  undo: 'Put it back',
  players: 'players',
  playerName: (name: string): string => `Name of player ${name}`,
  playerInstrument: (name: string): string => `Instrument of ${name}`,
  playerLeft: (name: string): string => `${name} has left`,
  left: 'has left',
  bring: 'Open a score or bring in a shelf',
  bringHelp: 'Any score, or a file that was taken along from a shelf. You can also drop it on the page.',
  into: 'New pieces stand with',
  intoLabel: 'Ensemble that new pieces stand with',
  plan: 'New bar plan',
  planHelp: 'Metres and bars, for a piece that you have on paper only. One line is enough:',
  planExample: 'title Sonata in G; pickup 1/4; 1-16 4/4 twice; 17-24 3/4; tempo 1/4=92',
  planLabel: 'The bar plan',
  planMake: 'Put it on the shelf',
  planName: 'Bar plan',
  local: 'All of this stays on this device. No account, no server.',
  keptLasting: 'The browser has promised to keep it.',
  broughtIn: (fresh: number, known: number): string =>
    `${counted(fresh, 'piece is', 'pieces are')} new on the shelf, ${counted(known, 'was', 'were')} there already. Nothing was lost.`,
  unkept: 'What you change is being kept.',
  fileName: (name: string): string => `${name}.shelf.zip`,
  wholeFile: 'levare',
} as const;

export const settingsWords = {
  heading: 'This piece',
  title: 'called',
  titleLabel: 'Title of the piece',
  edition: 'the first full bar is bar',
  editionLabel: 'Number of the first full bar in your edition',
  editionAfter: 'in our edition',
  plays: (part: string): string => `Who plays ${part}`,
  somebody: 'name',
  sounds: 'sounds',
  octaveLabel: (part: string): string => `Octave in which ${part} sounds`,
  keyLabel: (part: string): string => `How ${part} transposes`,
  drills: 'Saved drills',
  saveAs: 'save this one as',
  saveAsLabel: 'Name under which this drill is saved',
  save: 'Save',
  take: (name: string): string => `Take up ${name}`,
  forget: (name: string): string => `Forget ${name}`,
  forgetShort: 'forget',
  restored: 'Opened where you were. Nothing was lost.',
  unsure:
    'Opened where you were. The very last change may be missing: the window was closed while it was being kept.',
  gone: 'This piece is not on the shelf any more; what you change is not kept.',
  putBack: 'Put it back',
  missing: (title: string): string =>
    `The score of “${title}” is not on this device. Open its file once more; all that is kept about the piece is still there.`,
} as const;

export const octaveChoices: readonly Choice[] = [
  { value: '2', words: 'two octaves higher' },
  { value: '1', words: 'an octave higher' },
  { value: '0', words: 'in its octave' },
  { value: '-1', words: 'an octave lower' },
  { value: '-2', words: 'two octaves lower' },
];

/**
 * Instruments by the note that sounds where C is written: staff steps and semitones. The usual transposing instruments of
 * the orchestra; common practice, no source.
 */
export const keyChoices: readonly Choice[] = [
  { value: '', words: 'as the score says' },
  { value: '0 0', words: 'as written' },
  { value: '-1 -2', words: 'in B♭' },
  { value: '-2 -3', words: 'in A' },
  { value: '-4 -7', words: 'in F' },
  { value: '-5 -9', words: 'in E♭, low' },
  { value: '2 3', words: 'in E♭, high' },
  { value: '1 2', words: 'in D' },
  { value: '-3 -5', words: 'in G, low' },
];
