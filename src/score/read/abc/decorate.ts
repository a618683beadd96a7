/** Decorations, words and chord symbols where they stand before a note. Source: ABC 2.1, sections 4.14 to 4.19. */
import { notKept } from '../drafts/log.ts';
import type { Group, Marks, Put } from './events.ts';
import { emptyMarks } from './events.ts';
import * as puts from './puts.ts';
import { decodeString } from './text.ts';
import type { Tune } from './tune.ts';
import type { TextPlace } from './layer.ts';
import type { Voice } from './voice.ts';

/** The text in quotation marks at `at`, and where it ends; null where it does not. `\"` is an accent, no end. */
export const readQuoted = (text: string, at: number): { text: string; end: number } | null => {
  for (let end = at + 1; end < text.length; end += 1) {
    if (text.charAt(end) === '\\') end += 1;
    else if (text.charAt(end) === '"') return { text: text.slice(at + 1, end), end: end + 1 };
  }
  return null;
};

interface Target {
  readonly marks: () => Marks;
  readonly put: (put: Put) => void;
}

const place = (tune: Tune, target: Target, meaning: string, where: TextPlace): void => {
  if (meaning.startsWith('"')) {
    const text = meaning.slice(1, -1);
    const placement = text.charAt(0);
    if (!/[\^_<>@]/.test(placement)) {
      notKept(tune.log, 'harmony', 'A chord symbol', where);
      return;
    }
    const words = decodeString(text.slice(1));
    if (words !== '') target.put(puts.words(words, placement !== '_'));
    return;
  }
  const decoration = tune.decoration(meaning.slice(1, -1), where);
  if (decoration === null) return;
  switch (decoration.kind) {
    case 'articulation':
      target.marks().articulations.push(...decoration.names);
      break;
    case 'ornament':
      target.marks().ornaments.push(...decoration.names);
      break;
    case 'technical':
      target.marks().technical.push({ name: decoration.name, text: decoration.text });
      break;
    case 'fermata':
      target.marks().fermata = true;
      break;
    case 'arpeggio':
      target.marks().arpeggio = true;
      break;
    case 'direction':
      target.put(puts.direction(decoration.direction, decoration.value, decoration.above));
      break;
    case 'jump':
      target.put(puts.jump(decoration.jump, decoration.from, decoration.text));
      break;
    case 'nothing':
      break;
  }
};

/** `meaning`: "!trill!", or a text with its quotation marks, for the next note. */
export const decorate = (tune: Tune, voice: Voice, meaning: string, where: TextPlace): void => {
  place(tune, { marks: () => voice.mark(), put: (put) => voice.put(put) }, meaning, where);
};

/** The same for a note that is there already, from a symbol line. */
export const decorateGroup = (tune: Tune, group: Group, meaning: string, where: TextPlace): void => {
  place(
    tune,
    { marks: () => (group.marks ??= emptyMarks()), put: (put) => (group.puts ??= []).push(put) },
    meaning,
    where,
  );
};
