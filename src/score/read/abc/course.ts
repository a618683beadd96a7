/** Bar lines, repeats and endings as a voice meets them. Source: ABC 2.1, sections 4.8 to 4.10. */
import { notKept } from '../drafts/log.ts';
import { readBarLine, readEndingNumbers } from './barlines.ts';
import type { VoiceBar } from './events.ts';
import { decodeString } from './text.ts';
import type { Tune } from './tune.ts';
import type { TextPlace } from './layer.ts';
import type { Voice } from './voice.ts';

/** What ends a part of the tune beside a repeat sign. */
const closing = new Set(['light-light', 'light-heavy', 'heavy-light']);

const closeEnding = (bar: VoiceBar, voice: Voice, type: 'stop' | 'discontinue'): void => {
  const open = voice.openEnding;
  if (open === null) return;
  voice.openEnding = null;
  // Its text stands with the beginning.
  bar.endings.push({ edge: 'right', type, numbers: open.numbers, text: open.text });
};

/** A fermata on a bar line; other signs there have no place. */
const lineMarks = (bar: VoiceBar | null, tune: Tune, voice: Voice, place: TextPlace): void => {
  const { marks } = voice;
  voice.marks = null;
  if (marks === null) return;
  if (marks.fermata && bar !== null) bar.fermata = true;
  const others = marks.articulations.length + marks.ornaments.length + marks.technical.length;
  if (others > 0 || marks.arpeggio || (marks.fermata && bar === null))
    notKept(tune.log, 'barline-mark', 'A sign on a bar line', place);
};

export const takeBarLine = (
  tune: Tune,
  voice: Voice,
  signs: string,
  dotted: boolean,
  place: TextPlace,
): void => {
  const { ends, starts, style, odd } = readBarLine(signs, dotted);
  if (odd)
    tune.log.say(
      'repair',
      'music-unreadable',
      `The dots inside the bar line "${signs.slice(0, 20)}" mean nothing; they are passed over.`,
      place,
    );
  const filled = voice.bar.filled;
  const ended = voice.barLine(place.line);
  lineMarks(ended, tune, voice, place);
  if (ended !== null) {
    const plain = style === 'regular' || (starts > 0 && ends === 0);
    if (!plain && (filled || !ended.styles.some((one) => one.style !== 'dotted' && one.style !== 'none')))
      ended.styles.push({ edge: 'right', style });
    if (ends > 0) {
      ended.repeats.push({
        edge: 'right',
        direction: 'backward',
        times: ends > 1 ? ends + 1 : voice.repeatTimes,
        afterJump: false,
      });
      voice.repeatTimes = 0;
      closeEnding(ended, voice, 'stop');
    } else if (starts > 0 || closing.has(style))
      // A bracket that ends at a closing bar line is closed on paper, one before other music stays open.
      closeEnding(ended, voice, style === 'light-heavy' ? 'stop' : 'discontinue');
  } else if (ends > 0)
    tune.log.say('repair', 'repeat-nothing', 'A repeat ends before the first bar; it is left out.', place);
  if (starts > 0) {
    voice.bar.repeats.push({ edge: 'left', direction: 'forward', times: 0, afterJump: false });
    // "|::" says at its beginning how often the section is played.
    voice.repeatTimes = starts > 1 ? starts + 1 : 0;
  }
};

/** An ending begins: by its numbers, or by a text such as "last". */
export const takeEnding = (
  tune: Tune,
  voice: Voice,
  digits: string,
  text: string | null,
  place: TextPlace,
): void => {
  if (voice.bar.filled) {
    tune.log.say('repair', 'ending-mid-bar', 'An ending begins inside a bar; the bar is split there.', place);
    const ended = voice.barLine(place.line);
    ended?.styles.push({ edge: 'right', style: 'none' });
  }
  const before = voice.openEnding;
  const previous = voice.bars[voice.barIndex - 1];
  if (previous !== undefined) closeEnding(previous, voice, 'stop');
  const words = text === null ? '' : decodeString(text);
  const read = readEndingNumbers(text === null ? digits : words.replace(/[.\s]/g, ''));
  if (read === null && text === null)
    tune.log.say(
      'repair',
      'ending-number-absurd',
      `An ending has the numbers "${digits.slice(0, 30)}", which make no sense; the next number in turn is taken.`,
      place,
    );
  const next = (before ?? voice.lastEnding)?.numbers.at(-1) ?? 0;
  const follows = previous?.endings.some(({ type }) => type !== 'start') === true;
  if (read === null && text !== null)
    tune.log.say(
      'assumption',
      'ending-number-missing',
      `The ending "${words.slice(0, 40)}" does not say for which time it is; ${follows ? next + 1 : 1} is taken.`,
      place,
    );
  const numbers = read ?? [follows ? next + 1 : 1];
  const shown = text === null ? `${numbers.join(', ')}.` : words;
  const ending = { numbers, text: shown };
  voice.openEnding = ending;
  voice.lastEnding = ending;
  voice.bar.endings.push({ edge: 'left', type: 'start', ...ending });
};
