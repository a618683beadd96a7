/** What the rule says after a take, in one sentence; the ensemble decides with one touch. */
import {
  proposalText,
  type AfterTake,
  type JournalTake,
  type ReadForJournal,
  type Take,
} from '../../desk/index.ts';
import { useEffect } from 'preact/hooks';
import type { Session, Shown } from '../session.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { askedIn } from '../shelf/settings.ts';
import { useSpeech } from '../words/context.ts';
import { afterLast, decide, keepReading, keptReading, type Decision } from './hand.ts';
import { placeNow, stepAsked, stepNow, type Step } from './steps.ts';
import type { ListedPlace } from '../../desk/index.ts';

interface Hands {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly shown: Shown;
}

const choices: readonly Decision[] = ['stay', 'on', 'back', 'leave'];

/** The step that a decision leads to; null where it leads to none. */
const stepAfter = (
  decided: Decision,
  { at, proposed, step }: AfterTake,
  steps: readonly Step[],
): Step | null => {
  if (decided === 'leave') return null;
  if (decided === proposed.proposal) return step;
  const main = steps.filter(({ branch }) => branch === 'main');
  const now = at === null ? -1 : main.indexOf(at);
  if (decided === 'stay') return at;
  return main[now + (decided === 'on' ? 1 : -1)] ?? at;
};

interface Props extends Hands {
  readonly place: ListedPlace;
  readonly after: AfterTake;
  readonly take: JournalTake;
}

/** The sentence and the four words. */
const Said = ({ keeper, session, shown, place, after, take }: Props) => {
  const { words, language } = useSpeech();
  const { letting } = words;
  const settle = (decided: Decision): void => {
    decide(keeper, take, decided);
    const step = stepAfter(decided, after, place.steps);
    if (step !== null) session.ask(stepAsked(step, shown.asked));
  };
  return (
    <div class="proposal">
      <p role="status">{proposalText(after, language)}</p>
      <p>
        {take.decided === '' ? letting.yours : letting.decided[take.decided]}{' '}
        {choices.map((one) => (
          <button
            key={one}
            type="button"
            class="do"
            aria-pressed={take.decided === one}
            onClick={() => settle(one)}
          >
            {letting.decisions[one]}
          </button>
        ))}
      </p>
    </div>
  );
};

/** After the last take of a place; nothing where there is none. */
export const Proposal = ({ place, ...hands }: Hands & { readonly place: ListedPlace }) => {
  const { piece } = hands.keeper.now;
  const last = piece === null ? null : afterLast(hands.keeper, piece, place);
  return last === null ? null : <Said {...hands} {...last} place={place} />;
};

interface ReadProps extends Hands {
  readonly take: Take;
  readonly reading: ReadForJournal;
}

/**
 * For the view of a reading: puts it into the journal, once, as its players let it stand, and says what the rule makes of it. Nothing where its bars are
 * no place, where the take is left out, and where later takes of the place have been made.
 */
const ReadProposal = ({ take, reading, ...hands }: ReadProps) => {
  const { keeper, shown } = hands;
  const { piece } = keeper.now;
  const asked = askedIn(take.asked);
  const place = asked === undefined ? null : placeNow(shown.places, asked);
  const step = place === null || asked === undefined ? undefined : place.steps[stepNow(place.steps, asked)];
  useEffect(() => {
    // Not before the drawing is done that this follows: what is kept is drawn at once.
    if (piece !== null && place !== null && step !== undefined)
      queueMicrotask(() => keepReading(keeper, piece, place, step, take, reading));
  }, [take.id, take.out?.['take'], reading, place?.key, step]);
  if (piece === null || place === null) return null;
  const kept = keptReading(keeper, piece, take);
  const last = afterLast(keeper, piece, place);
  return kept === null || last?.take.id !== kept.id ? null : <Said {...hands} {...last} place={place} />;
};

interface AfterProps extends Hands {
  readonly take: Take | null;
  readonly reading: ReadForJournal | null;
}

/** In the margin of a reading, once the players have said what they heard. */
export const AfterReading = ({ take, reading, ...hands }: AfterProps) =>
  take === null || reading === null || take.said?.['shown'] !== 'yes' ? null : (
    <div class="after-reading">
      <ReadProposal {...hands} take={take} reading={reading} />
    </div>
  );
