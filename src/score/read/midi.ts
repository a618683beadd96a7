/**
 * Standard MIDI Files of format 0 and 1, as written by programs and as played on keyboards. The rule by which played
 * notes become note values is at the head of midi/quantise.ts, that for tempi in midi/tempi.ts, that for the names of
 * notes in midi/spell.ts; docs/formats/midi.md has them in a musician's words.
 */
import { refusable, type Result } from '../../units/index.ts';
import type { Score } from '../model.ts';
import { checkFile } from './midi/chunks.ts';
import { gather } from './midi/events.ts';
import { makeScore } from './midi/score.ts';

/**
 * Reads a MIDI file. Pitches are sounding ones; parts transpose nothing. Bars are numbered from 1, a pickup is bar 0.
 * Refuses what is no MIDI file, format 2, time codes of film, and files beyond 16 MiB, 1024 tracks, 1,000,000 events,
 * 200,000 notes, 250,000 written notes and rests, or 20,000 bars.
 */
export const readMidi = (bytes: Uint8Array): Result<Score> =>
  refusable(() => {
    const file = checkFile(bytes);
    return makeScore(file, gather(file));
  });
