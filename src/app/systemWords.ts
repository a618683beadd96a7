/** What a system shows, in words, for those who do not see it. */
import type { ListedPlace, LiveDrill, ScreenSystem } from '../desk/index.ts';
import type { Words } from './words/index.ts';

type Said = Words['system'];

/** The hand-overs of a place in bars of this system, each bar named once. */
const taken = ({ seams }: ListedPlace, here: ReadonlySet<string>, said: Said): string => {
  let named = '';
  return seams
    .filter((seam) => here.has(seam.bar))
    .map(({ bar, beat, to }) => {
      const text = said.taken(bar === named ? null : bar, beat, to);
      named = bar;
      return text;
    })
    .join(', ');
};

/** "bar 10 beats 2 and 4"; clicks of the first repetition only, as the page shows them. */
const clicked = (drill: LiveDrill | null, here: ReadonlySet<string>, said: Said): readonly string[] => {
  const beats = new Map<string, string[]>();
  for (const { bar, beat, rep } of drill?.clicks ?? [])
    if (rep === 1 && bar !== null && here.has(bar)) beats.set(bar, [...(beats.get(bar) ?? []), beat]);
  return [...beats].map(([bar, list]) => said.clicked(bar, list));
};

/** A sentence for the bars, one for the clicks, and one for each place that is pencilled there. */
export const systemWords = (
  { from, to, places: ids }: ScreenSystem,
  { system: said }: Words,
  drill: LiveDrill | null,
  places: readonly ListedPlace[] = [],
): string => {
  const bars = drill?.summary.bars ?? [];
  const [first, last] = [bars.indexOf(from), bars.lastIndexOf(to)];
  const here = new Set(first < 0 ? [] : bars.slice(first, last + 1));
  const clicks = clicked(drill, here, said);
  return [
    `${from === '' ? said.countIn : said.bars(from, to)}.`,
    `${clicks.length === 0 ? said.noClicks : said.clicks(clicks)}.`,
    ...ids
      .flatMap((id) => places.filter((place) => place.id === id))
      .map((place) => said.place(place, place.kind === 'shared-line' ? taken(place, here, said) : '')),
  ].join(' ');
};
