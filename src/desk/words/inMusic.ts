/** What is written into the music, by the English word: count words and labels of places. A table a language. */
import { countWordsIn } from '../countWords.ts';
import type { TellingLanguage } from './language.ts';

export const inMusic: Readonly<Record<TellingLanguage, Readonly<Record<string, string>>>> = {
  // The music's own words are English.
  en: {},
  de: {
    ...countWordsIn('de'),
    line: 'Linie',
    canon: 'Kanon',
    imitation: 'Imitation',
    entry: 'Einsatz',
    unison: 'gleicher Rhythmus',
    'after-beats': 'Nachschläge',
    'weak beats': 'leichte Schläge',
    syncopation: 'Synkopen',
    '3 against 2': '3 gegen 2',
    'dots or triplets': 'Punkte oder Triolen',
    hemiola: 'Hemiole',
    metre: 'Takt',
    tempo: 'Tempo',
    tie: 'Bindung',
    upbeat: 'Auftakt',
    run: 'Lauf',
    end: 'Schluss',
  },
};
