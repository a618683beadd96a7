/** Small texts inside messages: counts, bars, lengths, figures, lists. */
import { translator, type Kinds, type Pair } from '../patterns.ts';

const table =
  (words: Readonly<Record<string, string>>) =>
  (text: string): string | null =>
    Object.hasOwn(words, text) ? (words[text] ?? null) : null;

const times = translator(
  [
    ['once more', 'noch einmal'],
    ['once', 'einmal'],
    ['twice', 'zweimal'],
    ['{n} times more', 'noch {n}-mal'],
    ['{n} times', '{n}-mal'],
  ],
  () => kinds,
);

/** Always after a preposition with the dative, or with the number alone. */
const bar = translator(
  [
    ['an unnumbered bar', 'einem Takt ohne Nummer'],
    ['an unknown bar', 'einem unbekannten Takt'],
    ['bar {n}', 'Takt {n}'],
  ],
  () => kinds,
);

const length = translator(
  [
    ['a whole note', 'eine ganze Note'],
    ['{n} whole notes', '{n} ganze Noten'],
    ['{n} of a whole note', '{n} einer ganzen Note'],
  ],
  () => kinds,
);

/** Decimal comma. Ratios and what is no figure stay as they are. */
const decimal = (text: string): string =>
  text
    .replace('less than', 'weniger als')
    .replace('between', 'zwischen')
    .replace(' and ', ' und ')
    .replace(/(\d)\.(\d)/g, '$1,$2');

const germanStep = (step: string, flats: number): string => {
  if (step === 'B') return flats === 0 ? 'H' : flats === 1 ? 'B' : `H${'es'.repeat(flats)}`;
  if (flats === 0) return step;
  return step === 'E' || step === 'A' ? `${step}s${'es'.repeat(flats - 1)}` : `${step}${'es'.repeat(flats)}`;
};

/** "Bb3" is "B3", "B3" is "H3", "F#4" is "Fis4". */
const pitch = (text: string): string | null => {
  if (text === 'a drum note') return 'einer Schlagzeugnote';
  const found = /^([A-G])(b*|#*)(-?\d+)$/.exec(text);
  if (found === null) return text;
  const [, step = '', signs = '', octave = ''] = found;
  if (!signs.startsWith('#')) return `${germanStep(step, signs.length)}${octave}`;
  return `${germanStep(step, 0)}${'is'.repeat(signs.length)}${octave}`;
};

const named: Readonly<Record<string, readonly [definite: string, indefinite: string]>> = {
  'da capo': ['Das Da capo', 'Ein Da capo'],
  'dal segno': ['Das Dal segno', 'Ein Dal segno'],
  '"to coda"': ['Der Sprung zur Coda', 'Ein Sprung zur Coda'],
  fine: ['Das Fine', 'Ein Fine'],
  segno: ['Das Segno', 'Ein Segno'],
  coda: ['Die Coda', 'Eine Coda'],
  daCapo: ['Das Da capo', 'Ein Da capo'],
  dalSegno: ['Das Dal segno', 'Ein Dal segno'],
  toCoda: ['Der Sprung zur Coda', 'Ein Sprung zur Coda'],
};

const clicks: Readonly<Record<string, string>> = {
  every: 'auf jeden Schlag',
  half: 'auf die halben Takte',
  weak: 'auf die leichten Schläge',
  after: 'nach jedem Schlag',
  bar: 'einmal im Takt',
  '2bars': 'jeden zweiten Takt',
  '4bars': 'jeden vierten Takt',
  none: 'gar nicht',
};

const directions: Readonly<Record<string, string>> = {
  dynamics: 'kein Dynamikzeichen',
  pedal: 'kein Pedalzeichen',
  words: 'kein Wort',
  wedge: 'keine Gabel',
  octaveShift: 'kein Oktavierungszeichen',
  dashes: 'keine Strichlinie',
  bracket: 'keine Klammer',
};

const instruments: Readonly<Record<string, string>> = {
  'a sopranino recorder': 'einer Sopraninoblockflöte',
  'a great bass or contrabass recorder': 'einer Großbass- oder Kontrabassblockflöte',
  'a bass recorder': 'einer Bassblockflöte',
  'a descant recorder': 'einer Sopranblockflöte',
  'a piccolo': 'einer Piccoloflöte',
  'a contrabassoon': 'einem Kontrafagott',
  'a double bass': 'einem Kontrabass',
  'a guitar': 'einer Gitarre',
  'a tenor voice in the treble clef': 'einem Tenor im Violinschlüssel',
};

const files: readonly Pair[] = [
  ['a PDF: pages to look at, not notes to count', 'ein PDF: Seiten zum Ansehen, nicht Noten zum Zählen'],
  ['a picture ({kind})', 'ein Bild ({kind})'],
  ['a sound file ({kind})', 'eine Tondatei ({kind})'],
  ['a sound or video file ({kind})', 'eine Ton- oder Videodatei ({kind})'],
  ['a gzip archive; unpack it first', 'ein gzip-Archiv; es muss erst entpackt werden'],
  ['a 7z archive; unpack it first', 'ein 7z-Archiv; es muss erst entpackt werden'],
  ['a RAR archive; unpack it first', 'ein RAR-Archiv; es muss erst entpackt werden'],
  ['an old office document', 'ein altes Bürodokument'],
  ['a program', 'ein Programm'],
  [
    'a MIDI file wrapped in RIFF; save it as a standard MIDI file',
    'eine MIDI-Datei in einer RIFF-Hülle; sie sollte als gewöhnliche MIDI-Datei gespeichert werden',
  ],
  ['a RIFF file', 'eine RIFF-Datei'],
  [
    'a web page (HTML); perhaps the download gave a page instead of the file',
    'eine Webseite (HTML); vielleicht kam beim Herunterladen eine Seite statt der Datei',
  ],
  ['made of bytes that are no text and no known kind of file', 'weder Text noch eine Datei bekannter Art'],
  ['a JSON file', 'eine JSON-Datei'],
  ['plain text', 'gewöhnlicher Text'],
];

const guess = translator([[' Did you mean "{word}"?', ' Gemeint: „{word}“?']], () => kinds);
const inPlan = translator([['number {n} in the plan', 'Nr. {n} im Plan']], () => kinds);

export const kinds: Kinds = {
  times,
  bar,
  length,
  decimal,
  pitch,
  clicks: (text) =>
    text
      .split(', ')
      .map((one) => clicks[one] ?? `„${one}“`)
      .join(', '),
  jump: (text) => named[text]?.[0] ?? null,
  aJump: (text) => named[text]?.[1] ?? null,
  /** What is printed; where it is a sign, the sources name it. */
  sign: (text) =>
    text === 'the segno sign' ? 'Segno-Zeichen' : text === 'the coda sign' ? 'Coda-Zeichen' : text,
  until: table({ fine: 'zum Fine', coda: 'zur Coda' }),
  direction: table(directions),
  instrument: table(instruments),
  file: translator(files, () => kinds),
  metre: (text) => (text === 'free' ? 'freies Metrum' : text.replace(/\bfree\b/g, 'frei')),
  or: (text) => text.replaceAll(' or ', ' oder '),
  /** Titles in quotation marks, of which some have none. */
  titles: (text) => text.replaceAll('one without title', 'eines ohne Titel').replace(/"([^"]*)"/g, '„$1“'),
  guess: (text) => (text === '' ? '' : guess(text)),
  none: (text) => (text === 'none' ? 'keine' : text),
  where: (text) => inPlan(text) ?? text,
};
