/** Players' own markings, in English. */
export const marking = {
  heading: 'Our own markings',
  write: 'write',
  kindLabel: 'What is written',
  kinds: {
    breath: 'a breath after the note',
    caesura: 'a caesura',
    'up-bow': 'up-bow',
    'down-bow': 'down-bow',
    rit: 'rit.',
    'a-tempo': 'a tempo',
    dynamics: 'dynamics',
    cue: 'a cue',
    leads: 'who leads',
    words: 'words',
  },
  dynamicsLabel: 'Dynamics',
  textLabel: 'What the words are',
  into: 'into',
  partLabel: 'Whose part it is written in',
  all: 'all parts',
  touched: 'the part that is touched',

  timeLabel: 'In which time through',
  times: { each: 'each time', '1': '1st time', '2': '2nd time', '3': '3rd time', '4': '4th time' },
  place: 'then touch its note or beat on the page',
  placing: 'Touch its note, or its beat above; or touch here to leave it.',
  note: (bar: string, beat: string, part: string, rest: boolean): string =>
    `Bar ${bar} beat ${beat}, ${part}${rest ? ', rest' : ''}`,
  notesHelp:
    'Notes. Left and right go along a part, up and down to another, Enter writes the marking there, Escape leaves it.',
  takeAlong: 'take along as a file',
  fileName: (piece: string): string => `${piece === '' ? 'piece' : piece}.markings.json`,
  row: (bar: string, beat: string, what: string, part: string): string =>
    `bar ${bar} beat ${beat}: ${what}${part === '' ? '' : `, ${part}`}`,
  timed: (time: number, text: string): string => `${time}. ${text}`,
  rub: 'rub out',
};
