/** The reader of Humdrum **kern. See docs/formats/kern.md. */
import { Refusal, refusable, type Place, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { layOut } from '../drafts/layOut.ts';
import { createLog } from '../drafts/log.ts';
import { createClock } from './clock.ts';
import { createCourse, createDrafts } from './course.ts';
import { linesOf } from './lines.ts';
import { noShift } from './pitch.ts';
import { createReader } from './reader.ts';
import { readRecord, signsOf, titleOf } from './records.ts';
import { createSections } from './sections.ts';
import { surveyOf } from './survey.ts';
import type { Desk, PartState } from './types.ts';

export { looksLikeKern } from './lines.ts';

/**
 * Reads Humdrum text with at least one **kern column. Errors: `no-bars`, `kern-columns-lost`, `file-too-large`,
 * `divisions-absurd`.
 */
export const readKern = (text: string): Result<Score> =>
  refusable(() => {
    const log = createLog();
    const lines = linesOf(text, log);
    const records = lines.flatMap((line) => (line.startsWith('!!!') ? (readRecord(line) ?? []) : []));
    const plan = surveyOf(lines);
    if (plan.parts.length === 0)
      throw new Refusal('no-bars', 'The file is Humdrum but has no **kern column: there are no notes in it.');
    const drafts = createDrafts(plan.parts.length);
    const desk: Desk = {
      log,
      plan,
      parts: plan.parts.map((): PartState => ({
        shift: noShift,
        keys: new Map(),
        entries: [],
        ties: new Set(),
        slurs: [],
      })),
      clock: createClock(),
      signs: signsOf(records),
      lengths: [],
      bar: 0,
      draft: drafts.of,
      place: (part, line): Place => ({
        ...(part === null ? {} : { part: plan.parts[part]?.head.id ?? '' }),
        ...(course.number() === '' ? {} : { bar: course.number() }),
        ...(line === undefined ? {} : { line }),
      }),
    };
    const course = createCourse(desk, drafts);
    const sections = createSections(desk, drafts.all);
    createReader(desk, course, sections)(lines);
    desk.parts.forEach(({ slurs }, index) => {
      if (slurs.length > 0)
        log.say(
          'repair',
          'slur-unpaired',
          `${slurs.length === 1 ? 'A slur begins and never ends' : `${slurs.length} slurs begin and never end`}; it is not told where to.`,
          { part: plan.parts[index]?.head.id ?? '' },
        );
    });
    sections.apply(course.count());
    const score = layOut({ title: titleOf(records), source: 'kern', columns: course.columns(log) }, log);
    if (!score.ok) return score;
    const after = createLog();
    sections.check(score.value, after);
    return { ...score, problems: [...score.problems, ...after.all()] };
  });
