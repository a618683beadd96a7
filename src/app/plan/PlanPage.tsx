/** The rehearsal plan: how much time, who is there, when the concert is; then the plan, to be changed, printed and begun. */
import { useEffect } from 'preact/hooks';
import { pieceTitle, type Overview, type Piece } from '../../desk/index.ts';
import type { Choice } from '../choices.ts';
import { Pick, Write } from '../Fields.tsx';
import type { Session, Shown } from '../session.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { bare } from '../shelf/records.ts';
import { problemText } from '../words/index.ts';
import { useSpeech, useWords } from '../words/context.ts';
import { Back } from './Back.tsx';
import { dayAfter, daysBetween, today } from './day.ts';
import { peopleOf, type Person } from './people.ts';
import { PlanItems } from './PlanItems.tsx';
import type { Planning } from './planning.ts';

interface Props {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly shown: Shown;
  readonly planning: Planning;
}

interface AskedProps {
  readonly planning: Planning;
  readonly piece: Piece;
  readonly people: readonly Person[];
}

/** Days on which the concert may be: half a year. */
const furthest = 183;

/** Today and the days after it; a day that is set and further away too. Days in words: no order of digits to be taken for another. */
const daysAhead = (set: string, words: (day: string) => string): readonly Choice[] => {
  const first = today();
  const days = Array.from({ length: furthest + 1 }, (_, i) => dayAfter(first, i));
  return [...days, ...(set > (days.at(-1) ?? '') ? [set] : [])].map((value) => ({
    value,
    words: words(value),
  }));
};

const Asked = ({ planning, piece, people }: AskedProps) => {
  const { plan: said } = useWords().letting;
  const { minutes, present, concert } = planning.rehearsal(piece);
  const days = concert === '' ? null : daysBetween(today(), concert);
  const minutesOf = (text: string): number =>
    /^\s*\d{1,4}\s*$/.test(text) ? Math.max(5, Math.min(1440, Number(text))) : minutes;
  return (
    <>
      <p>
        {said.minutes}{' '}
        <Write
          name="plan-minutes"
          label={said.minutesLabel}
          value={String(minutes)}
          size={3}
          digits
          step={(value, by) => String(minutesOf(value) + 5 * by)}
          onWrite={(text) => planning.change(piece, { minutes: minutesOf(text) })}
        />
      </p>
      <fieldset class="people-here">
        <legend>{said.who}</legend>
        {people.map(({ id, name }) => (
          <label key={id}>
            <input
              type="checkbox"
              name={`here-${id}`}
              checked={present[id] !== false}
              onChange={(event) => planning.change(piece, { present: { [id]: event.currentTarget.checked } })}
            />{' '}
            {name}
          </label>
        ))}
      </fieldset>
      <p>
        {said.concert}{' '}
        <Pick
          name="plan-concert"
          label={said.concertLabel}
          value={concert}
          choices={[{ value: '', words: said.noConcert }, ...daysAhead(concert, said.weekday)]}
          onPick={(day) => planning.change(piece, { concert: day })}
        />{' '}
        {days !== null && <span class="aside">{said.days(days)}</span>}
      </p>
    </>
  );
};

interface MadeProps extends Props {
  readonly piece: Piece;
}

const Made = ({ session, shown, planning, piece }: MadeProps) => {
  const speech = useSpeech();
  const { words, language } = speech;
  const { plan: said } = words.letting;
  const { plan } = planning.rehearsal(piece);
  const { absent, left, making, problems } = planning.now;
  const print = (): void => {
    const why = new Map(shown.places.map((place) => [place.key, words.places.why(place)]));
    const title = pieceTitle(piece);
    void planning.print(planning.printed(piece, title, why), language, `${bare(title)}-${said.file}`);
  };
  const begin = (): void => {
    planning.go(piece, 0);
    location.hash = '';
    session.putOnStand(true);
  };
  return (
    <>
      <PlanItems planning={planning} piece={piece} plan={plan} places={shown.places} />
      <div role="status">
        {planning.remarks(piece).map((remark) => (
          <p key={remark}>{said.remarks[remark]}</p>
        ))}
        {shown.places
          .filter(({ key }) => absent.includes(key))
          .map((place) => (
            <p key={place.key}>{said.absent(words.places.row(place))}</p>
          ))}
        {left > 0 && <p>{said.left(left)}</p>}
      </div>
      <p>
        <button type="button" class="do" onClick={begin}>
          {said.begin}
        </button>
        <button type="button" class="do" disabled={making !== null} onClick={print}>
          {said.print}
        </button>
        <span role="status">{making?.kind === 'plan' ? said.printing : ''}</span>
      </p>
      {problems.map((one) => (
        <p key={one.message} class={one.severity === 'error' ? 'error' : ''}>
          {problemText(one, speech)}
        </p>
      ))}
    </>
  );
};

const peopleHere = (keeper: Keeper, piece: Piece, look: Overview['look'] | undefined): readonly Person[] =>
  look === undefined ? [] : peopleOf(keeper, piece, look);

export const PlanPage = (props: Props) => {
  const { keeper, session, shown, planning } = props;
  const { plan: said } = useWords().letting;
  const { piece } = keeper.now;
  useEffect(() => session.playback.stop(), []);
  const people = piece === null ? [] : peopleHere(keeper, piece, shown.piece?.look);
  const made = piece !== null && planning.rehearsal(piece).plan.length > 0;
  return (
    <main class="shelf plan">
      <h1>{said.title}</h1>
      <Back />
      {piece !== null && (
        <>
          <h2>{pieceTitle(piece)}</h2>
          <Asked planning={planning} piece={piece} people={people} />
          {shown.places.length === 0 ? (
            <p role="status">{shown.busy === null ? said.noPlaces : said.waiting}</p>
          ) : (
            <p>
              <button type="button" class="do" onClick={() => planning.make(piece, people)}>
                {made ? said.again : said.make}
              </button>
            </p>
          )}
          <p class="aside">{said.onlyThis}</p>
          {made && <Made {...props} piece={piece} />}
        </>
      )}
    </main>
  );
};
