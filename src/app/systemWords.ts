/** What a system shows, in words, for those who do not see it. */
import type { ListedPlace, LiveDrill, ScreenSystem } from '../desk/index.ts';
import { systemPlaces } from './placeWords.ts';
import { listed } from './wording.ts';

const barsWords = ({ from, to }: ScreenSystem): string =>
  from === '' ? 'The count-in' : from === to ? `Bar ${from}` : `Bars ${from} to ${to}`;

/** "bar 10 beats 2 and 4"; clicks of the first repetition only, as the page shows them. */
export const systemWords = (
  system: ScreenSystem,
  drill: LiveDrill | null,
  places: readonly ListedPlace[] = [],
): string => {
  const bars = drill?.summary.bars ?? [];
  const [first, last] = [bars.indexOf(system.from), bars.lastIndexOf(system.to)];
  const here = new Set(first < 0 ? [] : bars.slice(first, last + 1));
  const beats = new Map<string, string[]>();
  for (const { bar, beat, rep } of drill?.clicks ?? []) {
    if (rep !== 1 || bar === null || !here.has(bar)) continue;
    beats.set(bar, [...(beats.get(bar) ?? []), beat]);
  }
  const clicked = [...beats].map(
    ([bar, list]) => `bar ${bar} ${list.length === 1 ? 'beat' : 'beats'} ${listed(list)}`,
  );
  const pencilled = systemPlaces(places, system.places, { ...system, bars });
  return `${barsWords(system)}. ${clicked.length === 0 ? 'No clicks' : `Clicks: ${clicked.join('; ')}`}.${pencilled}`;
};
