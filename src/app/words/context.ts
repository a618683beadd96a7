/** The language of the page, for all views below. */
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import { speechIn, type Language, type Speech, type Words } from './index.ts';

interface Spoken extends Speech {
  readonly choose: (language: Language) => void;
}

export const SpeechContext = createContext<Spoken>({ ...speechIn('en'), choose: () => undefined });

export const useSpeech = (): Spoken => useContext(SpeechContext);

export const useWords = (): Words => useSpeech().words;
