/** Directives: %%... and I: fields. Source: ABC 2.1, sections 3.1.17, 6.1.1 and 11. */
import { notKept } from '../drafts/log.ts';
import type { Tune } from './tune.ts';
import type { TextPlace } from './layer.ts';

const layout = (tune: Tune, name: string, place: TextPlace): void =>
  notKept(
    tune.log,
    'layout',
    `A directive for the look of the page or for playback ("${name.slice(0, 30)}" and the like)`,
    place,
  );

const numberIn = (text: string, least: number, most: number): number | null => {
  const value = /^[+-]?\d{1,6}$/.test(text) ? Number(text) : NaN;
  return value >= least && value <= most ? value : null;
};

/** Sounds are counted from 0 in "%%MIDI program", from 1 in "%%MIDI voice". */
const midi = (tune: Tune, words: readonly string[], place: TextPlace): void => {
  const [kind = '', first = '', second = ''] = words;
  switch (kind) {
    case 'program': {
      const program = numberIn(second === '' ? first : second, 0, 127);
      if (program === null) {
        layout(tune, 'MIDI program', place);
        break;
      }
      tune.log.tally(
        'assumption',
        'program-from-zero',
        '',
        (many) =>
          `"%%MIDI program" is read as counting sounds from 0 (${many}), as such files do: ${program} is General MIDI sound ${program + 1}.`,
        place,
      );
      const channel = second === '' ? null : numberIn(first, 1, 16);
      if (channel === null) tune.declare({ program: program + 1 });
      else tune.programs.set(channel, program + 1);
      break;
    }
    case 'channel': {
      const channel = numberIn(first, 1, 16);
      if (channel !== null) tune.declare({ channel });
      break;
    }
    case 'transpose': {
      const semitones = numberIn(first, -120, 120);
      if (semitones === null)
        tune.log.say(
          'repair',
          'transpose-unreadable',
          `"%%MIDI transpose ${first.slice(0, 20)}" can not be read; it is left out.`,
          place,
        );
      else tune.declare({ midiTranspose: semitones });
      break;
    }
    case 'voice': {
      const id = first.includes('=') || first === 'mute' ? null : first.slice(0, 20);
      const instrument = /(?:^|\s)instrument=(\d{1,3})(?:\s|$)/.exec(words.join(' '));
      const program = numberIn(instrument?.[1] ?? '', 1, 128);
      if (words.some((word) => word === 'mute' || word.startsWith('bank=')))
        layout(tune, 'MIDI voice ... mute, bank', place);
      if (program !== null) {
        if (id === null) tune.declare({ program });
        else tune.declareFor(id, { program });
      }
      break;
    }
    default:
      layout(tune, `MIDI ${kind}`, place);
  }
};

const linebreak = (tune: Tune, value: string): void => {
  tune.bangBreaks = value.split(/\s+/).includes('!');
  if (tune.bangBreaks) tune.decorationSign = '+';
};

/** `text`: what stands behind "%%" or "I:". */
export const readDirective = (tune: Tune, text: string, place: TextPlace): void => {
  const trimmed = text.trim();
  const match = /^(\S+)\s*/.exec(trimmed);
  const name = match?.[1] ?? '';
  const value = trimmed.slice(match?.[0].length ?? 0);
  switch (name) {
    case 'score':
    case 'staves':
      if (tune.inHeader || tune.grouping === null) tune.grouping = value;
      else if (tune.grouping !== value)
        notKept(
          tune.log,
          'regrouping',
          'A change of which voices stand on which staff in the course of a piece',
          place,
        );
      break;
    case 'MIDI':
      midi(tune, value.split(/\s+/), place);
      break;
    case 'propagate-accidentals':
      if (value === 'not' || value === 'octave' || value === 'pitch') tune.reach = value;
      else layout(tune, name, place);
      break;
    case 'setbarnb':
    case 'measurefirst': {
      const number = numberIn(value, 0, 999_999);
      if (number === null) layout(tune, name, place);
      else if (tune.inHeader || !tune.hasVoice) tune.firstBar = number;
      else tune.current.bar.number = number;
      break;
    }
    case 'linebreak':
      linebreak(tune, value);
      break;
    case 'continueall':
      linebreak(tune, value === 'true' || value === '1' ? '!' : '');
      break;
    case 'decoration':
      if (value === '+' || value === '!') tune.decorationSign = value;
      break;
    case 'abc-version': {
      const version = /^(\d{1,3})(?:\.(\d{1,3}))?/.exec(value);
      if (version !== null) tune.strict = isStrict(version[0]);
      break;
    }
    case 'abc-charset':
      if (!/^(utf-?8|us-ascii|iso-8859-1)$/i.test(value))
        tune.log.say(
          'repair',
          'encoding-wrong',
          `The file says that its text is ${value.slice(0, 30)}, which is not read from such a note; letters with accents may show wrong, notes are not touched.`,
          place,
        );
      break;
    case 'abc-include':
      notKept(tune.log, 'include', `What another file defines ("${value.slice(0, 40)}")`, place);
      break;
    case 'text':
    case 'center':
      notKept(tune.log, 'typeset', 'Text set between the music', place);
      break;
    case 'abc-creator':
    case 'abc-copyright':
    case 'abc-edited-by':
      break;
    default:
      layout(tune, name, place);
  }
};

/** ABC 2.1 and later are read strictly (section 12.3). */
export const isStrict = (version: string): boolean => {
  const [major = 0, minor = 0] = version.split('.').map(Number);
  return major > 2 || (major === 2 && minor >= 1);
};
