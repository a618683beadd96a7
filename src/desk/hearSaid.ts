/** What is said of a recording beside its figures: whether it fits its part at all, and what was noticed. */
import type { PlayerHeard } from '../listen/player.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import type { Reading } from './reading.ts';
import type { Assigned } from './hearAssign.ts';

/**
 * Shares of notes found at their pitch, and surely heard, below which a recording is of something else. Set on recordings held
 * against the drills of others: at most .55 and .53 there, at least .63 found where they belong together.
 */
const otherPiece = { found: 0.57, heard: 0.6 } as const;
/**
 * Log odds of an onset against the same onsets in other orders (src/listen/otherOrders.ts) below which a recording is of something else; looked at only where
 * less than .85 are found. Set on the odd takes of the bench's tuning half (docs/evidence/hearing.md).
 */
export const leastAbove = 1.3;
/** Below this share it is said that much was not found. */
const doubtful = 0.7;

/** Error: `take-other-piece`; note: `take-doubtful`. */
export const judgeFit = ({ part, file }: Assigned, heard: PlayerHeard): Result<null> => {
  const share = Math.round(100 * heard.fit);
  const sure = heard.notes.filter(({ state }) => state === 'heard').length / Math.max(1, heard.notes.length);
  if (heard.fit < otherPiece.found && sure < otherPiece.heard)
    return fail(
      'take-other-piece',
      `${file.name} does not sound like ${part.name} in this drill: only ${share} of each 100 notes were found in order. It may be of another piece, another drill or another player.`,
    );
  if (heard.above !== null && heard.above < leastAbove)
    return fail(
      'take-other-piece',
      `${file.name} does not sound like ${part.name} in this drill: ${share} of each 100 notes were found, hardly more than when the same notes are put in another order. It may be of another piece, another drill or another player.`,
    );
  if (heard.fit >= doubtful) return ok(null);
  return ok(null, [
    problem(
      'note',
      'take-doubtful',
      `In ${file.name} only ${share} of each 100 notes of ${part.name} were clearly found at their pitch.`,
      { part: part.id },
    ),
  ]);
};

/** Notes on one player's take. `last`: when the last note is expected, in seconds on the drill's timeline. */
export const saidOf = ({ part, file }: Assigned, heard: PlayerHeard, last: number): readonly Problem[] => {
  const said: Problem[] = [];
  const place = { part: part.id };
  const { clock, ends, abandoned } = heard;
  if (clock.by === 'notes')
    said.push(
      problem(
        'assumption',
        'clock-by-notes',
        `No click is heard in ${file.name}: it was laid on the drill's time by its notes. How far this player was from the others on the whole cannot be told.`,
        place,
      ),
    );
  if (ends < last - 0.5)
    said.push(
      problem(
        'note',
        'take-ends-early',
        `${file.name} ends ${(last - ends).toFixed(1)} seconds before the last note begins.`,
        place,
      ),
    );
  if (abandoned > 2)
    said.push(
      problem(
        'note',
        'take-restarted',
        `${part.name} stopped and began again: ${abandoned} notes were played twice, and the last time was read.`,
        place,
      ),
    );
  if (heard.added.length > 0)
    said.push(
      problem(
        'note',
        'take-added',
        `${heard.added.length} note(s) are heard that are not in the part.`,
        place,
      ),
    );
  return said;
};

/** What players are not compared on: notes that are not written alike, and bars in which the tempo is asked to give way. */
export const leftOutOf = ({
  articulationBetween,
  played,
}: Pick<Reading, 'articulationBetween' | 'played'>): readonly Problem[] => {
  const sum = (of: (one: Reading['articulationBetween'][number]) => readonly number[]): number =>
    articulationBetween.reduce((all, one) => all + of(one).reduce((a, b) => a + b, 0), 0);
  const left = sum((one) => one.left);
  const giving = [...new Set(played.filter(({ gives }) => gives).map(({ bar }) => bar))];
  return [
    ...(left === 0
      ? []
      : [
          problem(
            'note',
            'comparison-left-out',
            `When lengths of notes were compared between players, ${left} of ${left + sum(({ n }) => n)} notes were left out: they are not written alike (value, articulation, slurs).`,
          ),
        ]),
    ...(giving.length === 0
      ? []
      : [
          problem(
            'note',
            'tempo-gives-way',
            `No tempo is told in bars ${giving.join(', ')}: it is asked to give way there.`,
          ),
        ]),
  ];
};

/** What holds for every reading; the last one only where several players were heard. */
export const standing: readonly Problem[] = [
  problem(
    'assumption',
    'beat-model',
    'Where a note is felt to begin is taken as the moment at which it comes within 15 dB of its loudest; players are compared by that moment.',
  ),
  problem(
    'assumption',
    'levels-apart',
    'How loud the players are against each other is not told: their recordings were not made with one and the same microphone.',
  ),
];
