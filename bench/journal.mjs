/** Drawing growth: ten years of weekly rehearsals against ten weeks of them. */
import { journalOf, placeGrowth, takesAt } from '../dist/desk/index.js';
import { inTurn, printRatios } from './measure.mjs';

const piece = `own.${'a'.repeat(64)}`;
const place = 'shared-line 1/16 @11:1-12:4 P1+P2';

/** One take a week and place, twenty places; the spread goes down slowly. */
const records = (weeks) =>
  Array.from({ length: weeks }, (_, week) => week).flatMap((week) =>
    Array.from({ length: 20 }, (_, k) => {
      const value = 30 + (600 - week) / 40;
      return {
        kind: 'journal-take',
        value: {
          format: 'levare.journal-take/1',
          id: `t${week}.${k}`,
          piece,
          rehearsal: `r${String(week).padStart(4, '0')}`,
          day: new Date(Date.UTC(2016, 0, 4 + 7 * week)).toISOString().slice(0, 10),
          nth: k + 1,
          place: k === 0 ? place : `bars ${k}`,
          bars: '12-13',
          step: 'all bar auto',
          playing: 'click',
          parts: { P1: { player: '', heard: 9, notes: 9 }, P2: { player: '', heard: 9, notes: 9 } },
          pairs: { 'P1 P2': { n: 40, sd: { value, low: value - 5, high: value + 5 } } },
          arrival: null,
          change: null,
          proposed: '',
          decided: '',
          stamps: {},
        },
      };
    }),
  );

export const benchJournal = async () => {
  const asked = { piece, place, step: 'all bar auto', title: 'Bars 12 to 13' };
  const journals = { 'ten weeks': journalOf(records(10)), 'ten years (520 weeks)': journalOf(records(520)) };
  const many = (journal) => () => {
    for (let i = 0; i < 200; i++) placeGrowth(journal, asked, 'en');
  };
  for (const [name, journal] of Object.entries(journals))
    console.log(`${name}: ${takesAt(journal, piece, place).length} takes of the place`);
  const fresh = (weeks) => {
    const list = records(weeks);
    return () => {
      for (let i = 0; i < 20; i++) placeGrowth(journalOf(list), asked, 'en');
    };
  };
  printRatios(
    'The whole journal sorted and growth drawn, 20 times (once when the shelf is opened)',
    await inTurn({ 'ten weeks': fresh(10), 'ten years (520 weeks)': fresh(520) }, 5),
  );
  printRatios(
    'Growth at a place drawn 200 times',
    await inTurn(Object.fromEntries(Object.entries(journals).map(([name, one]) => [name, many(one)])), 9),
  );
};
