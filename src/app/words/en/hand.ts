/** The drill as it is made on the page, by touch and by keys; in English. */

const bars = (first: string, last: string): string =>
  first === last ? `Bar ${first}` : `Bars ${first} to ${last}`;

export const hand = {
  bars,
  bar: (number: string): string => `Bar ${number}`,
  barsHelp:
    'Bars. Arrow keys go from bar to bar and up to the beats, Shift with an arrow takes more bars, Enter makes them the passage.',
  beat: (bar: string, beat: string, clicked: boolean): string =>
    `Bar ${bar} beat ${beat}, ${clicked ? 'clicks' : 'no click'}`,
  whole: 'all bars',
  back: 'back to the passage',
  wholeHelp: 'Touch the first bar of the passage, or draw over its bars.',
  first: (bar: string): string => `From bar ${bar}: touch its last bar.`,
  alone: (bar: string): string => `bar ${bar} alone`,
  until: (bar: string): string => `to bar ${bar}, as before`,
  again: 'begin anew',
  writing: (first: string, last: string): string => `${bars(first, last)}: being written.`,
  waiting: (first: string, last: string): string => `${bars(first, last)}.`,
  written: (written: number, count: number): string => `${written} of ${count} bars are written.`,
  passage: (first: string, last: string): string => `The passage: ${bars(first, last).toLowerCase()}.`,
  chosen: (first: string, last: string): string => `${bars(first, last)} chosen; Enter takes them.`,
  beatsHelp: 'A touch on a beat above the music puts a click there, or takes it away.',
  undo: 'undo',
  redo: 'redo',
  undone: { back: 'Undone.', on: 'Done again.' },
  slower: 'slower',
  faster: 'faster',
  more: 'more about the drill',
  tacet: 'click tacet',
  tacetLabel: 'Bars with the click and bars without',
  tacets: {
    none: 'never',
    '1/1': '1 bar with, 1 without',
    '2/2': '2 bars with, 2 without',
    '4/4': '4 bars with, 4 without',
    '3/1': '3 bars with, 1 without',
    '2/6': '2 bars with, 6 without',
  },
  hemiola: 'hemiola in bars',
  hemiolaLabel: 'Bars of a hemiola, such as 40-41',
  upbeat: 'upbeat',
  upbeatLabel: 'The upbeat',
  upbeats: {
    auto: 'as in the music',
    none: 'none',
    '1/8': 'an eighth',
    '1/4': 'a quarter',
    '3/8': 'three eighths',
    '1/2': 'a half',
  },
  count: 'what is counted:',
  countLabel: 'The note value that is counted',
  counts: {
    auto: 'the beats of the metre',
    '1/8': 'eighths',
    '1/4': 'quarters',
    '3/8': 'dotted quarters',
    '1/2': 'halves',
    '3/4': 'dotted halves',
  },
};
