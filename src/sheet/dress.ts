/**
 * What the page needs in the MusicXML and no score says: the click line has one line, the players' staves a bracket, bars
 * without metre one that is not printed.
 */
import { withMetres } from './freeBars.ts';
import type { SheetScore } from './sheetScore.ts';

/** The click part's attributes: one staff line, which the page then leaves out. */
const oneLine = (xml: string, clickPart: string): string => {
  const from = xml.indexOf(`<part id="${clickPart}">`);
  const at = from < 0 ? -1 : xml.indexOf('</clef>', from);
  if (at < 0) return xml;
  const end = at + '</clef>'.length;
  return `${xml.slice(0, end)}<staff-details><staff-lines>1</staff-lines></staff-details>${xml.slice(end)}`;
};

/** Players' parts joined by a bracket; bar lines run through it, but not through words that are sung. */
const grouped = (xml: string, { score, clickPart }: SheetScore): string => {
  const players = score.parts.filter(({ id }) => id !== clickPart);
  const [first] = players;
  const from = first === undefined ? -1 : xml.indexOf(`<score-part id="${first.id}">`);
  const to = xml.indexOf('</part-list>');
  if (players.length < 2 || from < 0 || to < 0) return xml;
  const sung = players.some(({ written }) => written.some(({ lyrics }) => lyrics.length > 0));
  const start = `<part-group type="start" number="1"><group-symbol>bracket</group-symbol><group-barline>${sung ? 'no' : 'yes'}</group-barline></part-group>`;
  return `${xml.slice(0, from)}${start}${xml.slice(from, to)}<part-group type="stop" number="1"/>${xml.slice(to)}`;
};

/** Dresses the MusicXML that our writer made of a sheet's score. */
export const dressed = (xml: string, sheet: SheetScore): string =>
  grouped(oneLine(withMetres(xml, sheet.score.bars), sheet.clickPart), sheet);
