/** What the page says, and the words for what the desk is asked. One language now; all its sentences stand here. */
import type { Overview } from '../desk/index.ts';
import type { Problem } from '../units/index.ts';
import { own } from './asked.ts';

/** A choice in the margin: what the desk is told, and how a player would write it. */
export interface Choice {
  readonly value: string;
  readonly words: string;
}

export const clickChoices: readonly Choice[] = [
  { value: 'every', words: 'on every beat' },
  { value: 'half', words: 'on the half bars' },
  { value: 'weak', words: 'on the weak beats' },
  { value: 'after', words: 'after each beat' },
  { value: 'bar', words: 'once a bar' },
  { value: '2bars', words: 'every second bar' },
  { value: '4bars', words: 'every fourth bar' },
  { value: '1/8', words: 'on every eighth' },
  { value: 'none', words: 'not at all' },
  { value: own, words: 'where I write' },
];

export const keepChoices: readonly Choice[] = [
  { value: 'all', words: 'all notes' },
  { value: '1/8', words: 'the line of eighths' },
  { value: '1/16', words: 'the line of sixteenths' },
  { value: '1/8t', words: 'the line of triplets' },
  { value: '1/8+', words: 'eighths and longer' },
  { value: '1/4+', words: 'quarters and longer' },
];

export const countChoices: readonly Choice[] = [
  { value: 'auto', words: 'as it needs' },
  { value: 'first', words: 'the first time only' },
  { value: 'each', words: 'each time' },
  { value: '1', words: 'one bar' },
  { value: '2', words: 'two bars' },
  { value: 'none', words: 'not at all' },
];

export const waitChoices: readonly Choice[] = ['0', '2', '3', '5', '8'].map((value) => ({
  value,
  words: value === '0' ? 'not at all' : `${value} seconds`,
}));

/** "Flute, Viola and Cello". */
export const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;

export const playersOf = ({ look }: Overview): string =>
  listed(look.parts.map(({ name, id }) => (name === '' ? id : name)));

export const problemWords = ({ message, bar }: Problem): string =>
  bar === undefined || bar === '' || message.includes(`ar ${bar}`) ? message : `Bar ${bar}: ${message}`;

/** "26 seconds", "2 minutes 5". */
export const lasting = (seconds: number): string => {
  const whole = Math.round(seconds);
  const minutes = Math.floor(whole / 60);
  if (minutes === 0) return `${whole} ${whole === 1 ? 'second' : 'seconds'}`;
  const rest = whole % 60;
  return `${minutes} ${minutes === 1 ? 'minute' : 'minutes'}${rest === 0 ? '' : ` ${rest}`}`;
};

export const words = {
  reading: 'The score is being read.',
  engraving: 'The page is being written.',
  play: 'Play',
  stop: 'Stop',
  hands: 'Hands back to the instrument.',
  playing: 'It plays.',
  still: '',
  later: {
    time: 'The change counts from the next time through.',
    bar: 'The change counts from the next bar.',
    start: 'The change counts from the next start.',
  },
  atBar: 'from the next bar already',
  quiet: 'Start with the volume right down; a click comes on top of all that you already hear.',
  hearing: 'About hearing',
  open: 'Open another score',
  openHelp: 'It stays on this device.',
  take: 'Take along',
  remarks: 'on the score',
  drop: 'Let go to open this score.',
} as const;

/** Whether the app opens without a network. */
export const keptWords = {
  kept: 'All of Levare is on this device now: it opens without a network.',
  keeping: 'Levare is being kept on this device, for rooms without a network.',
  newer: 'A newer Levare is here. It opens once all its pages are closed.',
  not: 'This browser does not keep Levare: it needs the network each time it is opened.',
} as const;

/** What sounds, and how loud. */
export const soundWords = {
  heading: 'sound',
  parts: { on: 'the parts sound too', off: 'the click alone' },
  partsLabel: 'What sounds',
  click: 'click',
  silent: 'silent',
  place: 'the click',
  places: { centre: 'in the middle', left: 'on the left alone' },
  pitch: 'A is',
  pitchLabel: 'Pitch of A in hertz, 392 to 466',
  louder: 'All together never pass a fixed level; how loud that is, your device decides.',
} as const;

export const standWords = {
  put: 'Put it on the stand',
  stand: 'On the stand. A touch on the music plays and stops.',
  foot: 'At the foot of the stand',
  again: 'again',
  slower: 'slower',
  faster: 'faster',
  back: 'back',
  on: 'on',
  leave: 'leave',
  sleeps: 'This screen may go dark: set your device to stay awake.',
} as const;
