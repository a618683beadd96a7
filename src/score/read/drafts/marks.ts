/** Tempo marks, tempo words and rehearsal marks of all parts as one list: what stands in several parts is one mark. */
import { beats, bpm, F, type Beats, type Fraction } from '../../../units/index.ts';
import type { Mark } from '../../model.ts';
import type { MarkDraft } from './draft.ts';
import type { Log } from './log.ts';

type Tempo = Extract<Mark, { kind: 'tempo' }>;
interface TempoDraft {
  readonly mark: Tempo;
  readonly vague: string | null;
}

/** Whole notes per minute. */
const rate = ({ perMinute, unit }: Tempo): Fraction => F.mul(perMinute, unit);

/** Playback tempi are often rounded: one in a hundred is no contradiction. */
const tolerance = F.fraction(1, 100);
const agree = (a: Tempo, b: Tempo): boolean => {
  const difference = F.sub(F.div(rate(a), rate(b)), F.one);
  return F.atMost(difference.n < 0n ? F.sub(F.zero, difference) : difference, tolerance);
};

const figure = (value: Fraction): string => String(Math.round(F.toNumber(value) * 100) / 100);
const quarters = (mark: Tempo): string => figure(F.mul(rate(mark), F.fraction(4)));

/** One tempo out of all that stand at one position: printed before playback only, a clear figure before a vague one. */
const oneTempo = (group: readonly TempoDraft[], numbers: readonly string[], log: Log): Tempo | null => {
  const rank = ({ mark, vague }: TempoDraft): number => (mark.printed ? (vague === null ? 0 : 1) : 2);
  const [first, ...others] = group.toSorted((a, b) => rank(a) - rank(b));
  if (first === undefined) return null;
  const bar = numbers[first.mark.bar] ?? '';
  if (first.vague !== null) {
    const sound = others.find(({ mark, vague }) => !mark.printed && vague === null)?.mark;
    const mark =
      sound === undefined
        ? first.mark
        : { ...first.mark, perMinute: bpm(F.div(rate(sound), first.mark.unit)) };
    log.say(
      'assumption',
      'tempo-approximate',
      `The metronome mark says "${first.vague}"; it is read as ${figure(mark.perMinute)}${sound === undefined ? '' : ", the file's playback tempo"}.`,
      { bar },
    );
    return mark;
  }
  for (const other of others) {
    if (agree(first.mark, other.mark)) continue;
    const both = other.mark.printed;
    log.say(
      'repair',
      both ? 'tempo-differs' : 'tempo-contradiction',
      both
        ? `Two tempi stand at the same place: ${quarters(first.mark)} and ${quarters(other.mark)} quarters a minute; the first is taken.`
        : `The tempo given first is ${quarters(first.mark)} quarters a minute, but the file also asks for playback at ${quarters(other.mark)}; ${first.mark.printed ? 'the printed one' : 'the first'} is taken.`,
      { bar },
    );
    break;
  }
  return first.mark;
};

const keyOf = (mark: Mark): string => {
  const place = F.format(mark.at);
  switch (mark.kind) {
    case 'tempo':
      return `tempo ${place}`;
    case 'relation':
      return `relation ${place} ${F.format(mark.from)} ${F.format(mark.to)}`;
    case 'tempoWords':
    case 'rehearsal':
      return `${mark.kind} ${place} ${mark.text.toLowerCase()}`;
  }
};

/** `drafts` with positions from the beginning of the score. The result is in order of position. */
export const marksOf = (
  drafts: readonly MarkDraft[],
  numbers: readonly string[],
  log: Log,
): readonly Mark[] => {
  const tempi = new Map<string, TempoDraft[]>();
  const seen = new Set<string>();
  const marks: Mark[] = [];
  for (const { mark, vague } of drafts) {
    const key = keyOf(mark);
    if (mark.kind === 'tempo') {
      const group = tempi.get(key);
      if (group === undefined) tempi.set(key, [{ mark, vague }]);
      else group.push({ mark, vague });
    } else if (!seen.has(key)) {
      seen.add(key);
      marks.push(mark);
    }
  }
  for (const group of tempi.values()) {
    const mark = oneTempo(group, numbers, log);
    if (mark !== null) marks.push(mark);
  }
  return marks.sort((a, b) => F.compare(a.at, b.at));
};

/** A position inside a bar as one in the score; never beyond the bar's end. */
export const inBar = (at: Fraction, start: Beats, length: Beats): Beats =>
  beats(F.add(start, F.less(length, at) ? length : at));
