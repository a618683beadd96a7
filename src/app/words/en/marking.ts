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
  place: 'then touch its beat on the page',
  placing: 'Touch its beat on the page; or touch here to leave it.',
  row: (bar: string, beat: string, what: string, part: string): string =>
    `bar ${bar} beat ${beat}: ${what}${part === '' ? '' : `, ${part}`}`,
  rub: 'rub out',
};
