/** What had to be left out, mended or assumed, each kind said once with its count. */
import { notKeptProblem, problem, timesText, type Problem, type Severity } from '../../../units/index.ts';
import type { CheckedFile } from './chunks.ts';
import type { RawMidi } from './events.ts';
import type { Placement } from './quantise.ts';

/** What the checks and the gathering left out or mended, each kind once. */
export const fileProblems = (file: CheckedFile, { counts }: RawMidi): Problem[] => {
  const counted = (severity: Severity, code: string, count: number, text: string): Problem[] =>
    count > 0 ? [problem(severity, code, `${count} ${text}`)] : [];
  return [
    ...counted(
      'repair',
      'file-truncated',
      file.tracksCut,
      'tracks break off or hold bytes that are no MIDI; what stands before is read.',
    ),
    ...counted(
      'repair',
      'midi-tracks-missing',
      file.tracksMissing,
      'tracks are promised by the header and are not there. Was the file copied in full?',
    ),
    ...counted(
      'repair',
      'midi-tracks-extra',
      file.tracksExtra,
      'tracks more than the header promises are there; they are read.',
    ),
    ...counted(
      'repair',
      'midi-event-broken',
      file.badEvents,
      'events have a wrong length; they are left out.',
    ),
    ...counted(
      'repair',
      'metre-unreadable',
      file.badMetres,
      'time signatures have no beats, or beats shorter than a 1024th; they are left out.',
    ),
    ...counted(
      'repair',
      'key-unreadable',
      counts.badKeys,
      'key signatures have more than 7 sharps or flats; they are left out.',
    ),
    ...counted(
      'note',
      'text-shortened',
      file.longTexts,
      'texts are longer than 4096 bytes; the rest of them is left out.',
    ),
    ...counted(
      'repair',
      'midi-note-unclosed',
      counts.unclosed,
      'notes are never let go; they last until the end of their track.',
    ),
    ...counted(
      'repair',
      'midi-note-unopened',
      counts.unopened,
      'notes end that never began; these ends are passed over.',
    ),
    ...counted(
      'repair',
      'midi-note-crowded',
      counts.crowded,
      'notes are struck while 16 of the same key still sound; the first of these is ended there.',
    ),
    ...countedNotKept('A message to a certain machine (system exclusive)', file.exclusive),
    ...countedNotKept('What controllers and pressure say (pedal, volume and the like)', counts.controllers),
    ...countedNotKept('A bend of the pitch away from that of the key', counts.bends),
    ...countedNotKept('A change of sound within a part after its first', counts.programs),
    ...countedNotKept('A text or cue point that is no track name, marker or lyric', counts.texts),
  ];
};

/** What the file holds and the model does not, if it is there at all, with how often. */
export const countedNotKept = (what: string, count: number): readonly Problem[] =>
  count > 0 ? [notKeptProblem(what, `found ${timesText(count)}`)] : [];

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
