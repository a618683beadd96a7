/** What had to be left out, mended or assumed, each kind said once with its count. */
import { problem, type Problem } from '../../../units/index.ts';
import type { CheckedFile } from './chunks.ts';
import type { RawMidi } from './events.ts';
import type { Placement } from './quantise.ts';

/** What the checks and the gathering left out or mended, each kind once. */
export const fileProblems = (file: CheckedFile, { counts }: RawMidi): Problem[] => {
  const told: readonly (readonly [number, Problem['severity'], string, string])[] = [
    [
      file.tracksCut,
      'repair',
      'midi-truncated',
      'tracks break off or hold bytes that are no MIDI; what stands before is read.',
    ],
    [
      file.tracksMissing,
      'repair',
      'midi-tracks-missing',
      'tracks are promised by the header and are not there. Was the file copied in full?',
    ],
    [
      file.tracksExtra,
      'repair',
      'midi-tracks-extra',
      'tracks more than the header promises are there; they are read.',
    ],
    [file.badEvents, 'repair', 'midi-event-broken', 'events have a wrong length; they are left out.'],
    [
      file.badMetres,
      'repair',
      'metre-zero',
      'time signatures have no beats, or beats shorter than a 1024th; they are left out.',
    ],
    [
      counts.badKeys,
      'repair',
      'key-absurd',
      'key signatures have more than 7 sharps or flats; they are left out.',
    ],
    [
      file.longTexts,
      'note',
      'text-shortened',
      'texts are longer than 4096 bytes; the rest of them is left out.',
    ],
    [
      counts.unclosed,
      'repair',
      'midi-note-unclosed',
      'notes are never let go; they last until the end of their track.',
    ],
    [
      counts.unopened,
      'repair',
      'midi-note-unopened',
      'notes end that never began; these ends are passed over.',
    ],
    [
      counts.crowded,
      'repair',
      'midi-note-crowded',
      'notes are struck while 16 of the same key still sound; the first of these is ended there.',
    ],
    [
      file.exclusive,
      'note',
      'midi-exclusive-not-kept',
      'messages for certain machines (system exclusive) say nothing about the score and are not kept.',
    ],
    [
      counts.controllers,
      'note',
      'midi-controllers-not-kept',
      'controller and pressure events (pedal, volume and the like) are not kept.',
    ],
    [
      counts.bends,
      'note',
      'midi-bends-not-kept',
      'pitch bends are not kept: notes have the pitch of their key.',
    ],
    [
      counts.programs,
      'note',
      'midi-programs-not-kept',
      'changes of sound within a part are not kept; its first sound is.',
    ],
    [
      counts.texts,
      'note',
      'midi-texts-not-kept',
      'texts and cue points are not kept; track names, markers and lyrics are.',
    ],
  ];
  return told
    .filter(([count]) => count > 0)
    .map(([count, severity, code, text]) => problem(severity, code, `${count} ${text}`));
};

const quarters = (value: number): string => (value < 0.001 ? 'less than 0.001' : value.toFixed(3));

export const placementProblems = ({
  onsetsMoved,
  endsMoved,
  rounded,
  largest,
  written,
}: Placement): Problem[] => {
  const problems: Problem[] = [];
  if (onsetsMoved + endsMoved > 0)
    problems.push(
      problem(
        'assumption',
        'midi-quantised',
        `${written ? 'The file was written, not played, but not all of it lies on note values' : 'The file seems to be played, not written'}: ` +
          `${onsetsMoved} onsets and ${endsMoved} ends of notes are moved to the nearest note value, by up to ${quarters(largest)} of a quarter.`,
      ),
    );
  if (rounded > 0)
    problems.push(
      problem(
        'assumption',
        'midi-ticks-rounded',
        `${rounded} onsets and ends lie between the ticks of the file; the note values that they stand for are taken.`,
      ),
    );
  return problems;
};
