/** An item of a plan in words. */
import type { ListedPlace, Rehearsal } from '../../desk/index.ts';
import type { Words } from '../words/index.ts';

type Item = Rehearsal['plan'][number];

/** "bars 12 to 15", "break". */
export const shortWords = ({ kind, bars, words }: Item, { letting }: Words): string =>
  kind === 'break' || kind === 'free'
    ? letting.plan.kinds[kind]
    : bars === ''
      ? words
      : letting.journal.bars(bars);

/** "first try, without a click: bars 12 to 15: one line of eighths, Anna and Ben". */
export const itemWords = (item: Item, places: readonly ListedPlace[], words: Words): string => {
  const place = places.find(({ key }) => key === item.place);
  const what = place === undefined ? shortWords(item, words) : words.places.row(place);
  const kind = words.letting.plan.kinds[item.kind];
  return item.kind === 'retest' ? `${kind}${what}` : what;
};
