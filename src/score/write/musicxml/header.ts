import type { Part, Score } from '../../model.ts';
import type { Context } from './context.ts';

/** Takes an id for each part, before any other element can; a part whose id is unfit gets one like it. */
export const partIds = (context: Context, parts: readonly Part[]): readonly string[] =>
  parts.map((part) => {
    const id = context.makeId(part.id);
    if (id !== part.id)
      context.report(
        'repair',
        'part-id-changed',
        `The part id "${part.id}" is taken or not fit for XML: "${id}" is written.`,
        { part: part.id },
      );
    return id;
  });

const isProgram = (program: number | null): program is number =>
  program !== null && Number.isInteger(program) && program >= 1 && program <= 128;

const writePart = (context: Context, part: Part, id: string): void => {
  const { out } = context;
  const place = { part: part.id };
  const name = context.clean(part.name, 'The name of a part', place);
  const sound = context.clean(part.sound, 'The sound of a part', place);
  out.within('score-part', { id }, () => {
    out.leaf('part-name', name);
    const abbreviation = context.clean(part.abbreviation, 'The abbreviation of a part', place);
    if (abbreviation !== '') out.leaf('part-abbreviation', abbreviation);
    if (sound === '' && !isProgram(part.program)) return;
    const instrument = context.makeId(`${id}-I1`);
    out.within('score-instrument', { id: instrument }, () => {
      out.leaf('instrument-name', name);
      if (sound !== '') out.leaf('instrument-sound', sound);
    });
    const { program } = part;
    if (isProgram(program))
      out.within('midi-instrument', { id: instrument }, () => out.leaf('midi-program', program));
  });
};

/** Writes title and part list. No date, program or place is written: the same score gives the same bytes. */
export const writeHeader = (context: Context, score: Score, ids: readonly string[]): void => {
  const { out } = context;
  const title = context.clean(score.title, 'The title');
  if (title !== '') out.within('work', {}, () => out.leaf('work-title', title));
  out.within('part-list', {}, () => {
    score.parts.forEach((part, index) => writePart(context, part, ids[index] ?? part.id));
  });
};
