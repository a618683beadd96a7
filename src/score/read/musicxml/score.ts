/** Puts a MusicXML document together: parts side by side, each read bar by bar. */
import { refusable, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { layOut, type Column } from '../drafts/layOut.ts';
import { createLog, type Log } from '../drafts/log.ts';
import type { XmlElement } from '../xml.ts';
import { aligned } from './align.ts';
import { createPartReader } from './measure.ts';
import { shapeOf, titleOf, type PartShape } from './shape.ts';

const columnsOf = (parts: readonly PartShape[], log: Log): readonly Column[] => {
  const measures = aligned(parts, log);
  return parts.map((head, index): Column => {
    const column = measures[index] ?? [];
    const reader = createPartReader(head.id, column, log);
    const drafts = column.map((element, bar) => (element === null ? null : reader.read(element, bar)));
    return { head, drafts, staves: reader.staves() };
  });
};

/**
 * The score in a document whose root is `score-partwise` or `score-timewise`. Errors: `no-bars`, `divisions-absurd`.
 */
export const scoreOf = (root: XmlElement): Result<Score> =>
  refusable(() => {
    const log = createLog();
    const columns = columnsOf(shapeOf(root, log), log);
    return layOut({ title: titleOf(root), source: 'musicxml', columns }, log);
  });
