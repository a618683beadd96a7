/** Steps of a place as what stands in the margin, and who cues the last. */
import type { ListedPlace, Marking } from '../../desk/index.ts';
import { requestOf, touchedAsked, type Asked } from '../asked.ts';

export type Step = ListedPlace['steps'][number];

/** "58 · 66 · 72" for "1/4=58", "1/4=66", "1/4=72", as players write them; shares stay as they are. */
export const tempoWords = (tempo: readonly string[]): string => {
  const bare = tempo.map((step) => /^[^=]+=(.+)$/.exec(step)?.[1]);
  return (bare.includes(undefined) ? tempo : bare).join(' · ');
};

/** What the margin says when a step is chosen. */
export const stepAsked = (step: Step, asked: Asked): Partial<Asked> => {
  const [from = '', to = from] = step.bars.split('-');
  return {
    from,
    to,
    keep: step.keep,
    ...touchedAsked({ ...asked, hemiola: '' }, step.click),
    tempo: tempoWords(step.tempo),
    times: String(step.times),
    countIn: step.countIn,
    tacet: 'none',
    hemiola: '',
    upbeat: step.upbeat,
    count: 'auto',
  };
};

const nameOf = ({ keep, click, countIn }: { keep?: string; click?: string; countIn?: string }): string =>
  `${keep ?? ''} ${click ?? ''} ${countIn ?? ''}`;

/** Index of the step that the margin asks for; -1 where it is none of them. */
export const stepNow = (steps: readonly Step[], asked: Asked): number => {
  const texts = requestOf(asked);
  const now = nameOf({ ...texts, countIn: texts['count-in'] ?? '' });
  return steps.findIndex((step) => step.bars === texts.bars && nameOf(step) === now);
};

/** The place whose bars the margin asks for: one of whose steps it is, else the weightiest. */
export const placeNow = (places: readonly ListedPlace[], asked: Asked): ListedPlace | null => {
  const { bars } = requestOf(asked);
  const here = places.filter((place) => place.steps.some((step) => step.bars === bars));
  return here.find(({ steps }) => stepNow(steps, asked) >= 0) ?? here[0] ?? null;
};

/**
 * Who cues the last step: whom the players' own markings name ("leads" before cues; by their text, else by the part that they stand in), else
 * who has the line first. `names`: of players by part id.
 */
export const cuesAt = (
  place: ListedPlace,
  markings: readonly Marking[],
  names: Readonly<Record<string, string>>,
): string => {
  const here = markings.filter(
    ({ kind, bar }) =>
      (kind === 'leads' || kind === 'cue') && place.from.barIndex - 1 <= bar && bar <= place.to.barIndex,
  );
  const marked = here.find(({ kind }) => kind === 'leads') ?? here[0];
  if (marked !== undefined) {
    const said = marked.text.trim().toLowerCase();
    const named = Object.values(names).find(
      (name) => said !== '' && (said === name.toLowerCase() || said.startsWith(`${name.toLowerCase()} `)),
    );
    const own = marked.part === '' ? undefined : names[marked.part];
    if (named !== undefined || own !== undefined) return named ?? own ?? '';
  }
  const first = place.seams[0]?.from;
  const [part] = place.parts;
  const index = first === undefined ? 0 : place.players.indexOf(first);
  const leader = place.parts[Math.max(0, index)] ?? part;
  return (leader === undefined ? undefined : names[leader]) ?? place.players[0] ?? '';
};
