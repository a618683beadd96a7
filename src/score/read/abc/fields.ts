/** Information fields, in headers and in the music. Source: ABC 2.1, section 3. */
import { metreText } from '../../metre.ts';
import { notKept } from '../drafts/log.ts';
import { readDirective } from './directives.ts';
import { noKey, readKey } from './key.ts';
import { mostMacros, readMacro } from './macros.ts';
import * as puts from './puts.ts';
import { readTempo } from './tempo.ts';
import { decodeString } from './text.ts';
import type { Tune } from './tune.ts';
import { defaultUnit, readMetre, readUnit } from './values.ts';
import type { TextPlace } from './layer.ts';
import type { Voice } from './voice.ts';

const metreField = (tune: Tune, text: string, place: TextPlace): void => {
  const metre = readMetre(text);
  if (metre === null) {
    const before = tune.hasVoice ? tune.current.metre : tune.start.metre;
    tune.log.say(
      'repair',
      'metre-unreadable',
      `The time signature "${text.slice(0, 30)}" can not be; ${before.components.length === 0 ? 'bars are read without metre' : `${metreText(before)} goes on`}.`,
      place,
    );
    return;
  }
  if (!tune.hasVoice) {
    tune.start.metre = metre;
    return;
  }
  const voice = tune.current;
  voice.setMetre(metre);
  puts.putMetre(voice, metre, tune.log);
};

const unitField = (tune: Tune, text: string, place: TextPlace): void => {
  const unit = readUnit(text);
  if (unit === null)
    tune.log.say(
      'repair',
      'unit-length-unreadable',
      `The unit length "${text.slice(0, 30)}" can not be; the one before it goes on.`,
      place,
    );
  else if (tune.hasVoice) tune.current.unit = unit;
  else tune.start.unit = unit;
};

const keyField = (tune: Tune, text: string, place: TextPlace): void => {
  const { properties, rest } = tune.properties(text, place, 'key');
  const read = readKey(rest, text.trim() === '');
  const key = read.kind === 'key' ? read.key : null;
  if (read.kind === 'key' && !read.understood)
    tune.log.say(
      'repair',
      'key-unreadable',
      `The key "${text.slice(0, 40)}" is not understood in full; ${read.key.mode === 'none' ? 'it is read as no key signature' : 'it is read as far as it is'}.`,
      place,
    );
  if (key?.pipes === true) {
    tune.pipes = true;
    tune.log.say(
      'assumption',
      'pipe-scale-assumed',
      'The key is that of the highland pipes: every C and F is read as sharp.',
      place,
    );
  }
  if (!tune.hasVoice) {
    tune.start.key = key ?? tune.start.key;
    Object.assign(tune.start.properties, properties);
    return;
  }
  const voice = tune.current;
  tune.apply(voice, properties);
  if (key === null) return;
  voice.key = key;
  puts.putKey(voice, key, tune.log);
};

const putTempo = (tune: Tune, voice: Voice, text: string, place: TextPlace): void => {
  const { words, figure, outdated, unreadable } = readTempo(text, voice.unit);
  for (const one of words) voice.put(puts.tempoWords(one));
  if (unreadable !== null)
    tune.log.say(
      'repair',
      'tempo-unreadable',
      `The tempo "${unreadable}" is none that can be played; it is left out.`,
      place,
    );
  if (figure !== null) voice.put(puts.tempo(figure.unit, figure.perMinute, figure.vague));
  if (outdated)
    tune.log.say(
      'note',
      'syntax-outdated',
      `The tempo "${text.trim().slice(0, 30)}" counts unit lengths a minute, an outdated way of writing.`,
      place,
    );
};

const symbolField = (tune: Tune, text: string, place: TextPlace): void => {
  const match = /^\s*([~H-Wh-w])\s*=\s*(\S.*)$/s.exec(text);
  const meaning = (match?.[2] ?? '').trim();
  const enclosed = /^(?:!([^!]+)!|\+([^+]+)\+|"([^"]+)")/.exec(meaning);
  if (match === null || enclosed === null) {
    tune.log.say(
      'repair',
      'music-unreadable',
      `The symbol "${text.trim().slice(0, 40)}" can not be read; it is left out.`,
      place,
    );
    return;
  }
  const name = enclosed[1] ?? enclosed[2];
  tune.letters.set(match[1] ?? '', name === undefined ? `"${enclosed[3] ?? ''}"` : `!${name}!`);
};

const macroField = (tune: Tune, text: string, place: TextPlace): void => {
  const macro = readMacro(text);
  if (macro === null || tune.macros.length >= mostMacros)
    tune.log.say(
      'repair',
      'music-unreadable',
      `The macro "${text.trim().slice(0, 40)}" ${macro === null ? 'can not be read' : 'is one too many'}; it is left out.`,
      place,
    );
  else tune.macros.push(macro);
};

/** Fields about the piece and not of it, which no format's reader tells of. */
const background = new Set('ABCDFGHNORSZ');

const sectionField = (tune: Tune, text: string, place: TextPlace): void => {
  if (tune.inHeader) {
    tune.order = text;
    tune.orderPlace = place;
    return;
  }
  const label = decodeString(text);
  if (label === '') return;
  const voice = tune.current;
  voice.put(puts.rehearsal(label));
  voice.sections.push({ bar: voice.barIndex + (voice.bar.filled ? 1 : 0), label });
};

/** Any field but w: and s:, whose lines stand under the music. */
export const readField = (tune: Tune, letter: string, text: string, place: TextPlace): void => {
  switch (letter) {
    case 'X':
    case 'r':
      break;
    case 'T': {
      const title = decodeString(text);
      if (tune.inHeader) tune.titles.push(title);
      else if (title !== '') tune.current.put(puts.words(title, true));
      break;
    }
    case 'M':
      metreField(tune, text, place);
      break;
    case 'L':
      unitField(tune, text, place);
      break;
    case 'K':
      keyField(tune, text, place);
      break;
    case 'Q':
      if (tune.hasVoice) putTempo(tune, tune.current, text, place);
      else
        tune.headPuts.push((voice) => {
          putTempo(tune, voice, text, place);
        });
      break;
    case 'P':
      sectionField(tune, text, place);
      break;
    case 'V':
      tune.selectVoice(text, place);
      break;
    case 'U':
      symbolField(tune, text, place);
      break;
    case 'm':
      macroField(tune, text, place);
      break;
    case 'I':
      readDirective(tune, text, place);
      break;
    case 'W':
      notKept(tune.log, 'words', 'Text printed below the music', place);
      break;
    case 'w':
    case 's':
      tune.log.say(
        'repair',
        'music-unreadable',
        `A line "${letter}:" stands where no notes are; it is left out.`,
        place,
      );
      break;
    case 'E':
      tune.log.say(
        'note',
        'syntax-outdated',
        'A field "E:" sets spaces between notes, as files once did; it says nothing about the music.',
        place,
      );
      break;
    default:
      if (!background.has(letter))
        notKept(tune.log, 'field', `A field that ABC does not know ("${letter}:" and the like)`, place);
  }
};

/** The header is over: what it says by default is settled. */
export const endHeader = (tune: Tune): void => {
  tune.inHeader = false;
  tune.start.unit ??= defaultUnit(tune.start.metre);
};

/** What a tune without any K: field has. */
export const assumeKey = (tune: Tune, place: TextPlace): void => {
  tune.start.key = noKey;
  tune.log.say(
    'repair',
    'key-missing',
    'The header of a piece does not end with a K: field; the piece is read without key signature.',
    place,
  );
  endHeader(tune);
};
