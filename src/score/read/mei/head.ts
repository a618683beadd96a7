/** Title and kind of notation. Source: MEI Guidelines 5, chapter 3 "Metadata"; att.notationType. */
import { Refusal } from '../../../units/index.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { attribute, child, childrenOf, collapse, type XmlElement } from '../xml.ts';
import { within } from './cast.ts';
import { deepText } from './tree.ts';

const path = (element: XmlElement, ...names: readonly string[]): XmlElement | undefined =>
  names.reduce<XmlElement | undefined>(
    (at, name) => (at === undefined ? undefined : child(at, name)),
    element,
  );

const titleIn = (statement: XmlElement | undefined): string => {
  if (statement === undefined) return '';
  const titles = childrenOf(statement, 'title');
  const title = titles.find((one) => ['', 'main', 'uniform'].includes(attribute(one, 'type'))) ?? titles[0];
  if (title === undefined) return '';
  // Parts of a title are sub-titles, unless it has nothing else.
  return collapse(title.text) || deepText(title);
};

/** The title of the file; else that of its first work. */
export const titleOf = (root: XmlElement): string => {
  const head = child(root, 'meiHead');
  if (head === undefined) return '';
  const works = child(head, 'workList') ?? child(head, 'workDesc');
  const work = works === undefined ? undefined : child(works, 'work');
  return (
    titleIn(path(head, 'fileDesc', 'titleStmt')) ||
    titleIn(work) ||
    titleIn(work === undefined ? undefined : child(work, 'titleStmt'))
  );
};

const otherNotation = /^(mensural|neume)/;
const neumes = new Set(['syllable', 'neume', 'ineume', 'uneume', 'ligature', 'mensur', 'proport']);

/** Throws Refusal `not-a-score` for neumes and mensural notation. */
export const refuseOtherNotation = (root: XmlElement, log: Log): void => {
  const kinds = within(root, new Set(['staffDef'])).map((staff) => attribute(staff, 'notationtype'));
  const other = kinds.filter((kind) => otherNotation.test(kind));
  const measured = within(root, new Set(['measure'])).length > 0;
  const music = child(root, 'music');
  const found = measured || music === undefined ? [] : within(music, neumes);
  if (
    (other.length > 0 && other.length === kinds.length) ||
    (!measured && (other.length > 0 || found.length > 0))
  )
    throw new Refusal(
      'not-a-score',
      'The file is MEI in neumes or mensural notation. Only common notation, with bars and note values, is read.',
    );
  if (other.length > 0) notKept(log, 'notationtype', 'A staff in neumes or mensural notation', {});
};
