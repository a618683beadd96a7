/** The page with its margin, in English. */
import { inMusic } from '../../../desk/words/inMusic.ts';

/** "Flute, Viola and Cello". */
const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;

/** "26 seconds", "2 minutes 5". */
const lasting = (seconds: number): string => {
  const whole = Math.round(seconds);
  const minutes = Math.floor(whole / 60);
  if (minutes === 0) return `${whole} ${whole === 1 ? 'second' : 'seconds'}`;
  const rest = whole % 60;
  return `${minutes} ${minutes === 1 ? 'minute' : 'minutes'}${rest === 0 ? '' : ` ${rest}`}`;
};

export const page = {
  listed,
  lasting,
  /** A figure with at most one decimal. */
  figure: (value: number): string => String(Math.round(value * 10) / 10),
  /** A bar before what is said of it. */
  inBar: (bar: string, text: string): string => (text.includes(`ar ${bar}`) ? text : `Bar ${bar}: ${text}`),
  untitled: 'Untitled',
  /** What is being waited for. */
  busy: {
    reading: 'The score is being read.',
    drill: 'The drill is being worked out.',
    engraving: 'The page is being written.',
    places: 'Places where you depend on each other are being looked for.',
  },
  stopReading: 'leave it',
  language: 'Language',
  /** What is written into the music: count words and places, by the English word. */
  inMusic: inMusic.en,
};

export const margin = {
  label: 'Pencilled in the margin',
  bars: 'bars',
  from: 'From bar',
  to: 'to',
  toLabel: 'To bar',
  keep: 'keep',
  keepLabel: 'Which notes are kept',
  keeps: {
    all: 'all notes',
    '1/8': 'the line of eighths',
    '1/16': 'the line of sixteenths',
    '1/8t': 'the line of triplets',
    '1/8+': 'eighths and longer',
    '1/4+': 'quarters and longer',
  },
  click: 'click',
  clickLabel: 'Where it clicks',
  clicks: {
    every: 'on every beat',
    half: 'on the half bars',
    weak: 'on the weak beats',
    after: 'after each beat',
    bar: 'once a bar',
    '2bars': 'every second bar',
    '4bars': 'every fourth bar',
    '1/8': 'on every eighth',
    none: 'not at all',
    own: 'where I write',
  },
  ownClick: 'Beats that are clicked, such as 2 4, or hemiola:40-41',
  tempo: 'tempo',
  tempoLabel: 'Tempo, or several, such as 72 80 88',
  asPrinted: 'as the file says',
  /** `several`: tempo steps. */
  times: (several: boolean): string => (several ? 'each' : 'play it'),
  timesLabel: 'How many times',
  timesAfter: (times: string): string => (times === '1' ? 'time' : 'times'),
  countIn: 'count in',
  countInLabel: 'Counting in',
  countIns: {
    auto: 'as it needs',
    first: 'the first time only',
    each: 'each time',
    '1': 'one bar',
    '2': 'two bars',
    none: 'not at all',
  },
  play: 'Play',
  stop: 'Stop',
  hands: 'Hands back to the instrument.',
  playing: 'It plays.',
  later: {
    time: 'The change counts from the next time through.',
    bar: 'The change counts from the next bar.',
    start: 'The change counts from the next start.',
  },
  atBar: 'from the next bar already',
  quiet: 'Start with the volume right down; a click comes on top of all that you already hear.',
  hearing: 'About hearing',
  wait: 'a touch waits',
  waitLabel: 'Time that a start by touch waits',
  waits: (seconds: number): string => (seconds === 0 ? 'not at all' : `${seconds} seconds`),
  waitAfter: ', the space key does not',
  open: 'Open another score',
  openHelp: 'It stays on this device.',
  take: 'Files of this drill',
  files: {
    'score.pdf': 'the page for the stand',
    'places.pdf': 'all places on their pages',
    'full.wav': 'clicks and parts as sound',
    'parts.wav': 'the parts as sound',
    'click.wav': 'the clicks as sound',
    'drill.mid': 'MIDI',
    'drill.musicxml': 'MusicXML',
    'timeline.json': 'all times',
  },
  partPage: (name: string): string => `the page of ${name}`,
  filePending: 'It is being made.',
  /** "34 clicks after “one two, one two three four”; 26 seconds in all." */
  sum: (clicks: number, counted: readonly string[], seconds: number): string =>
    `${clicks === 1 ? 'One click' : `${clicks} clicks`}${counted.length === 0 ? '' : ` after “${counted.join(', ')}”`}; ${lasting(seconds)} in all.`,
  remarks: (count: number): string => `${count} ${count === 1 ? 'remark' : 'remarks'} on the score`,
  /** Whether the app opens without a network. */
  kept: {
    kept: 'All of Levare is on this device now: it opens without a network.',
    keeping: 'Levare is being kept on this device, for rooms without a network.',
    newer: 'A newer Levare is here. It opens once all its pages are closed.',
    not: 'This browser does not keep Levare: it needs the network each time it is opened.',
  },
};

/** What sounds, and how loud. */
export const sound = {
  heading: 'sound',
  parts: { on: 'the parts sound too', off: 'the click alone' },
  partsLabel: 'What sounds',
  click: 'click',
  silent: 'silent',
  count: 'the count',
  countLabel: 'How the count is heard',
  counts: { spoken: 'spoken', clicked: 'clicked' },
  place: 'the click',
  places: { centre: 'in the middle', left: 'on the left alone' },
  pitch: 'A is',
  pitchLabel: 'Pitch of A in hertz, 392 to 466',
};

export const stand = {
  put: 'Put it on the stand',
  stand: 'On the stand. A touch on the music plays and stops.',
  foot: 'At the foot of the stand',
  again: 'again',
  slower: 'slower',
  faster: 'faster',
  back: 'back',
  on: 'on',
  leave: 'leave',
  next: 'next place',
  previous: 'place before',
  sleeps: 'This screen may go dark: set your device to stay awake.',
};
