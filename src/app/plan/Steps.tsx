/** The steps of the place in the margin, from much click to none; how it was, by ear; and what comes next. */
import {
  markingsOf,
  standing,
  stepKey,
  type JournalTake,
  type ListedPlace,
  type Piece,
} from '../../desk/index.ts';
import { useFold } from '../fold.ts';
import type { Session, Shown } from '../session.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { useWords } from '../words/context.ts';
import { today } from './day.ts';
import { takesHere, tell } from './hand.ts';
import { namesOf, peopleOf } from './people.ts';
import { Proposal } from './Proposal.tsx';
import { cuesAt, placeNow, stepAsked, stepNow, tempoWords, type Step } from './steps.ts';

interface Props {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly shown: Shown;
}

interface ListProps extends Props {
  readonly place: ListedPlace;
  readonly takes: readonly JournalTake[];
  /** Index of the step that the margin asks for, -1 for none; and of where the place stands. */
  readonly now: number;
  readonly next: Step | undefined;
  readonly cues: string;
}

const List = ({ session, shown, place, takes, now, next, cues }: ListProps) => {
  const { letting } = useWords();
  const day = today();
  return (
    <ol class="steps-list" aria-label={letting.stepsLabel}>
      {place.steps.map((step, i) => {
        const count = takes.filter((take) => take.day === day && take.step === stepKey(step)).length;
        const words = letting.step({ ...step, tempo: tempoWords(step.tempo), cues });
        return (
          <li key={stepKey(step)} class={step.branch}>
            <button
              type="button"
              aria-current={i === now ? 'step' : undefined}
              onClick={() => session.ask(stepAsked(step, shown.asked))}
            >
              {step.branch === 'side' && letting.aside}
              {words}
            </button>
            {count > 0 && <span class="aside"> {letting.today(count)}</span>}
            {i !== now && step === next && <span class="aside"> {letting.next}</span>}
          </li>
        );
      })}
    </ol>
  );
};

const Open = (props: Props & { readonly place: ListedPlace; readonly piece: Piece }) => {
  const { keeper, shown, place, piece } = props;
  const { letting } = useWords();
  const takes = takesHere(keeper, piece, place);
  const stands = standing(takes, place.steps);
  const main = place.steps.filter(({ branch }) => branch === 'main');
  const now = stepNow(place.steps, shown.asked);
  const step = place.steps[now];
  const look = shown.piece?.look;
  const names = look === undefined ? {} : namesOf(peopleOf(keeper, piece, look));
  const cues = cuesAt(place, markingsOf(keeper.now.state.records, piece.id), names);
  return (
    <>
      <p class="aside">{letting.standings[stands.kind]}</p>
      <List {...props} takes={takes} now={now} next={main[stands.step]} cues={cues} />
      {step === undefined ? (
        <p class="aside">{letting.choose}</p>
      ) : (
        <p role="group" aria-label={letting.how}>
          {letting.how}{' '}
          <button type="button" class="do" onClick={() => tell(keeper, piece, place, step, 'held')}>
            {letting.held}
          </button>
          <button type="button" class="do" onClick={() => tell(keeper, piece, place, step, 'not-yet')}>
            {letting.notYet}
          </button>
        </p>
      )}
      {takes.at(-1)?.day === today() && <Proposal {...props} />}
    </>
  );
};

/** A sentence where the bars of the margin are no place: words below must not move away under a hand that has just written other bars. */
export const Steps = (props: Props) => {
  const { letting } = useWords();
  const fold = useFold('steps');
  const { keeper, shown } = props;
  const { piece } = keeper.now;
  const place = placeNow(shown.places, shown.asked);
  if (piece === null || shown.places.length === 0) return null;
  return (
    <details class="steps" {...fold}>
      <summary>{letting.steps}</summary>
      {place === null ? (
        <p class="aside">{letting.noPlace}</p>
      ) : (
        <Open {...props} place={place} piece={piece} />
      )}
    </details>
  );
};
