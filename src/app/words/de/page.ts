/** The page with its margin, in German. */
import { inMusic } from '../../../desk/words/inMusic.ts';
import type { Words } from '../en/index.ts';

/** "Flöte, Bratsche und Cello". */
const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} und ${names.at(-1) ?? ''}`;

/** "26 Sekunden", "2 Minuten 5". */
const lasting = (seconds: number): string => {
  const whole = Math.round(seconds);
  const minutes = Math.floor(whole / 60);
  if (minutes === 0) return `${whole} ${whole === 1 ? 'Sekunde' : 'Sekunden'}`;
  const rest = whole % 60;
  return `${minutes} ${minutes === 1 ? 'Minute' : 'Minuten'}${rest === 0 ? '' : ` ${rest}`}`;
};

/** "eins zwei drei" for "one two three". */
const counts = (text: string): string =>
  text
    .split(' ')
    .map((word) => inMusic.de[word] ?? word)
    .join(' ');

export const page: Words['page'] = {
  listed,
  lasting,
  figure: (value) => String(Math.round(value * 10) / 10).replace('.', ','),
  inBar: (bar, text) => (text.includes(`Takt ${bar}`) ? text : `Takt ${bar}: ${text}`),
  untitled: 'Ohne Titel',
  busy: {
    reading: 'Die Partitur wird gelesen.',
    drill: 'Die Übung wird ausgearbeitet.',
    engraving: 'Die Seite wird geschrieben.',
    places: 'Stellen, an denen ihr voneinander abhängt, werden gesucht.',
  },
  stopReading: 'doch nicht',
  language: 'Sprache',
  inMusic: inMusic.de,
};

export const margin: Words['margin'] = {
  label: 'Mit Bleistift am Rand',
  bars: 'Takte',
  from: 'Von Takt',
  to: 'bis',
  toLabel: 'Bis Takt',
  keep: 'Noten:',
  keepLabel: 'Welche Noten bleiben',
  keeps: {
    all: 'alle',
    '1/8': 'die Linie der Achtel',
    '1/16': 'die Linie der Sechzehntel',
    '1/8t': 'die Linie der Triolen',
    '1/8+': 'Achtel und länger',
    '1/4+': 'Viertel und länger',
  },
  click: 'Klick',
  clickLabel: 'Wo es klickt',
  clicks: {
    every: 'auf jeden Schlag',
    half: 'auf die halben Takte',
    weak: 'auf die leichten Schläge',
    after: 'nach jedem Schlag',
    bar: 'einmal im Takt',
    '2bars': 'jeden zweiten Takt',
    '4bars': 'jeden vierten Takt',
    '1/8': 'auf jedes Achtel',
    none: 'gar nicht',
    own: 'wo ich schreibe',
  },
  ownClick: 'Schläge, auf die es klickt, etwa 2 4, oder hemiola:40-41',
  tempo: 'Tempo',
  tempoLabel: 'Tempo, oder mehrere, etwa 72 80 88',
  asPrinted: 'wie in der Datei',
  times: (several) => (several ? 'jedes' : 'spielen'),
  timesLabel: 'Wie oft',
  timesAfter: () => 'Mal',
  countIn: 'einzählen',
  countInLabel: 'Einzählen',
  countIns: {
    auto: 'wie nötig',
    first: 'nur beim ersten Mal',
    each: 'jedes Mal',
    '1': 'einen Takt',
    '2': 'zwei Takte',
    none: 'gar nicht',
  },
  play: 'Spielen',
  stop: 'Halt',
  hands: 'Hände zurück ans Instrument.',
  playing: 'Es spielt.',
  later: {
    time: 'Die Änderung gilt ab dem nächsten Durchgang.',
    bar: 'Die Änderung gilt ab dem nächsten Takt.',
    start: 'Die Änderung gilt ab dem nächsten Start.',
  },
  atBar: 'schon ab dem nächsten Takt',
  quiet: 'Ganz leise beginnen; ein Klick kommt zu allem hinzu, was schon zu hören ist.',
  hearing: 'Über das Gehör',
  wait: 'ein Antippen wartet',
  waitLabel: 'Wie lange ein Start durch Antippen wartet',
  waits: (seconds) => (seconds === 0 ? 'gar nicht' : `${seconds} Sekunden`),
  waitAfter: ', die Leertaste nicht',
  open: 'Eine andere Partitur öffnen',
  openHelp: 'Sie bleibt auf diesem Gerät.',
  take: 'Dateien dieser Übung',
  files: {
    'score.pdf': 'das Blatt fürs Pult',
    'places.pdf': 'alle Stellen auf ihren Seiten',
    'full.wav': 'Klicks und Stimmen als Klang',
    'parts.wav': 'die Stimmen als Klang',
    'click.wav': 'die Klicks als Klang',
    'drill.mid': 'MIDI',
    'drill.musicxml': 'MusicXML',
    'timeline.json': 'alle Zeiten',
  },
  partPage: (name) => `das Blatt von ${name}`,
  filePending: 'Es wird gemacht.',
  sum: (clicks, counted, seconds) =>
    `${clicks === 1 ? 'Ein Klick' : `${clicks} Klicks`}${counted.length === 0 ? '' : ` nach „${counted.map(counts).join(', ')}“`}; insgesamt ${lasting(seconds)}.`,
  remarks: (count) => `${count} ${count === 1 ? 'Bemerkung' : 'Bemerkungen'} zur Partitur`,
  kept: {
    kept: 'Ganz Levare ist jetzt auf diesem Gerät: Es öffnet sich auch ohne Netz.',
    keeping: 'Levare wird auf dieses Gerät geholt, für Räume ohne Netz.',
    newer: 'Ein neueres Levare ist da. Es öffnet sich, sobald alle seine Seiten geschlossen sind.',
    not: 'Dieser Browser behält Levare nicht: Es braucht bei jedem Öffnen das Netz.',
  },
};

export const sound: Words['sound'] = {
  heading: 'Klang',
  parts: { on: 'auch die Stimmen klingen', off: 'nur der Klick' },
  partsLabel: 'Was klingt',
  click: 'Klick',
  silent: 'still',
  count: 'gezählt wird',
  countLabel: 'Wie das Zählen zu hören ist',
  counts: { spoken: 'gesprochen', clicked: 'mit Klicks' },
  place: 'der Klick',
  places: { centre: 'in der Mitte', left: 'nur links' },
  pitch: 'A ist',
  pitchLabel: 'Höhe des A in Hertz, 392 bis 466',
};

export const stand: Words['stand'] = {
  put: 'Aufs Pult legen',
  stand: 'Auf dem Pult. Antippen der Noten spielt und hält an.',
  foot: 'Am Fuß des Pults',
  again: 'nochmal',
  slower: 'langsamer',
  faster: 'schneller',
  back: 'zurück',
  on: 'weiter',
  leave: 'fertig',
  next: 'nächste Stelle',
  previous: 'Stelle davor',
  sleeps: 'Dieser Bildschirm kann dunkel werden: am Gerät einstellen, dass er an bleibt.',
};
