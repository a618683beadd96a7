import { F, lengthText, type Beats, type Fraction, type Place } from '../../../units/index.ts';
import type { Mark } from '../../model.ts';
import type { Context } from './context.ts';
import { writeDirection } from './directions.ts';
import { decimalText, drawnValues, type DrawnValue } from './numbers.ts';

type Tempo = Extract<Mark, { kind: 'tempo' }>;

const writeUnit = ({ out }: Context, values: readonly DrawnValue[]): void => {
  const [first, ...tied] = values;
  const write = ({ type, dots }: DrawnValue) => {
    out.leaf('beat-unit', type);
    for (let dot = 0; dot < dots; dot++) out.empty('beat-unit-dot');
  };
  if (first !== undefined) write(first);
  for (const value of tied) out.within('beat-unit-tied', {}, () => write(value));
};

/** Quarters per minute, as the tempo attribute of `sound` counts (MusicXML 4.0). */
const quarters = ({ unit, perMinute }: Tempo): Fraction => F.mul(perMinute, F.mul(unit, F.fraction(4)));

const inType = (context: Context, content: () => void) => context.out.within('direction-type', {}, content);

/** Writes the figure into an open direction; false where no tied values make up its unit. */
const writeFigure = (context: Context, unit: Beats, content: () => void): boolean => {
  const values = drawnValues(unit);
  if (values === null) return false;
  inType(context, () =>
    context.out.within('metronome', { parentheses: 'no' }, () => {
      writeUnit(context, values);
      content();
    }),
  );
  return true;
};

const reportTempo = (context: Context, mark: Tempo, place: Place): void => {
  if (mark.printed && drawnValues(mark.unit) === null)
    context.report(
      'note',
      'tempo-unit-not-drawn',
      `No note values make up ${lengthText(mark.unit)}: the tempo is written for playback only.`,
      place,
    );
  const figure = mark.printed ? mark.perMinute : quarters(mark);
  const { text, exact } = decimalText(figure);
  if (!exact)
    context.report(
      'note',
      'tempo-rounded',
      `A tempo of ${F.format(figure)} has no finite decimal: ${text} is written.`,
      place,
    );
};

/** A tempo mark with the words just before it, which are printed on one line with it. */
const writeTempo = (context: Context, words: readonly string[], mark: Tempo | null, place: Place): void => {
  const { out } = context;
  if (mark !== null) reportTempo(context, mark, place);
  const sound = mark === null ? null : { tempo: decimalText(quarters(mark)).text };
  const drawn = mark?.printed === true && drawnValues(mark.unit) !== null;
  if (words.length === 0 && !drawn) {
    if (sound !== null) out.empty('sound', sound);
    return;
  }
  writeDirection(
    context,
    { above: true, staff: null },
    () => {
      for (const text of words)
        inType(context, () => out.leaf('words', context.clean(text, 'A tempo word', place)));
      if (mark !== null && drawn)
        writeFigure(context, mark.unit, () => out.leaf('per-minute', decimalText(mark.perMinute).text));
    },
    sound,
  );
};

const writeRelation = (
  context: Context,
  { from, to }: Extract<Mark, { kind: 'relation' }>,
  place: Place,
): void => {
  const [old, next] = [drawnValues(from), drawnValues(to)];
  if (old === null || next === null) {
    context.report(
      'note',
      'tempo-unit-not-drawn',
      `No note values make up the change of beat ${F.format(from)} = ${F.format(to)}: it was left out.`,
      place,
    );
    return;
  }
  writeDirection(context, { above: true, staff: null }, () =>
    writeFigure(context, from, () => writeUnit(context, next)),
  );
};

/** Writes the marks that hold for everyone and stand at one position, in their order. */
export const writeMarks = (context: Context, marks: readonly Mark[], place: Place): void => {
  const { out } = context;
  let words: string[] = [];
  const flush = () => {
    for (const text of words) writeTempo(context, [text], null, place);
    words = [];
  };
  for (const mark of marks) {
    switch (mark.kind) {
      case 'tempoWords':
        words.push(mark.text);
        break;
      case 'tempo':
        // Words with an unprinted tempo keep it as their sound.
        {
          const own = words.slice(-1);
          words = words.slice(0, -1);
          flush();
          writeTempo(context, own, mark, place);
        }
        break;
      case 'relation':
        flush();
        writeRelation(context, mark, place);
        break;
      case 'rehearsal':
        flush();
        writeDirection(context, { above: true, staff: null }, () =>
          inType(context, () => out.leaf('rehearsal', context.clean(mark.text, 'A rehearsal mark', place))),
        );
        break;
    }
  }
  flush();
};
