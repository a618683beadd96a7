/** Places where parts depend on each other: facts only, by the rules at the heads of the files of this folder. */
import type { Score } from '../score/model.ts';
import { F, problem, type Problem } from '../units/index.ts';
import { crossRhythms, dotsAgainstTriplets } from './against.ts';
import { metreChanges, tempoChanges } from './changes.ts';
import { lastNotes, longNotesThenRuns, tiesOverBars, upbeatStarts } from './edges.ts';
import { hemiolas } from './hemiolas.ts';
import { imitations } from './imitation.ts';
import { jointEntries } from './jointEntries.ts';
import { placeKinds, type Place } from './model.ts';
import { momentsOf } from './moments.ts';
import { musicOf, type Music } from './music.ts';
import { offBeats } from './offBeats.ts';
import { sharedLines } from './sharedLines.ts';
import { syncopations } from './syncopation.ts';
import { unisons } from './unison.ts';

export interface Found {
  /** By where they begin; where two begin together, by kind (see `placeKinds`), then value. */
  readonly places: readonly Place[];
  readonly problems: readonly Problem[];
}

/** What keeps places from being found. */
const hindrances = ({ score, players }: Music): readonly Problem[] => {
  const problems: Problem[] = [];
  const say = (code: string, message: string, part?: string): void => {
    problems.push(problem('note', code, message, part === undefined ? {} : { part }));
  };
  if (players.length === 0)
    say('places-no-parts', 'This score has bars but no parts: only changes of metre and tempo can be found.');
  if (players.length === 1)
    say(
      'places-one-part',
      'There is one part only: nobody to hand a line to. What one player has to watch is told.',
    );
  for (const { part } of players) {
    if (part.notes.length === 0) say('places-part-silent', `${part.name || part.id} has no notes.`, part.id);
    else if (part.notes.every(({ pitch }) => pitch === null))
      say(
        'places-unpitched',
        `${part.name || part.id} has no pitches: lines that it shares are found by rhythm, where they are handed over more than once; imitation is not looked for.`,
        part.id,
      );
  }
  const free = score.bars.filter(({ metre }) => metre.components.length === 0);
  if (free.length > 0)
    say(
      'places-no-metre',
      `${free.length === score.bars.length ? 'The music has' : 'Some bars have'} no metre: what depends on beats is not found there.`,
    );
  return problems;
};

/** All places of a score. Never fails; the same score gives the same places. */
export const findPlaces = (score: Score): Found => {
  const music = musicOf(score);
  const moments = momentsOf(music);
  const places = [
    ...sharedLines(music),
    ...imitations(music),
    ...jointEntries(music, moments),
    ...unisons(music, moments),
    ...offBeats(music),
    ...syncopations(music),
    ...crossRhythms(music),
    ...dotsAgainstTriplets(music),
    ...hemiolas(music),
    ...metreChanges(music),
    ...tempoChanges(music),
    ...tiesOverBars(music),
    ...upbeatStarts(music),
    ...longNotesThenRuns(music),
    ...lastNotes(music, moments),
  ].map((place, i) => ({ place, i, kind: placeKinds.indexOf(place.kind) }));
  places.sort((a, b) => F.compare(a.place.from.at, b.place.from.at) || a.kind - b.kind || a.i - b.i);
  return { places: places.map(({ place }) => place), problems: hindrances(music) };
};

export { placeKinds, type Facts, type Place, type PlaceKind, type Seam, type Spot } from './model.ts';
