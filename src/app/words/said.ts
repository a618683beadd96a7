/** The messages of the core in the language of the page. The core speaks English; the page translates by code and shape. */
import type { Problem } from '../../units/index.ts';
import { germanMessage } from './messages/index.ts';
import type { Language } from './language.ts';

/** A message in a language; in English where that language has no words for it, never half in each. */
export const said = ({ code, message }: Problem, language: Language): string =>
  language === 'de' ? (germanMessage(code, message) ?? message) : message;
