/** What each player takes home: one button, and then one file for each. */
import { useState } from 'preact/hooks';
import { drillsOf, type Piece } from '../../desk/index.ts';
import { savedFile } from '../../host/browser/index.ts';
import { nothingAsked, requestOf, type Asked } from '../asked.ts';
import { Pick } from '../Fields.tsx';
import { useFold } from '../fold.ts';
import type { Session, Shown } from '../session.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { askedIn } from '../shelf/settings.ts';
import { soundOf } from '../soundSettings.ts';
import { problemText, type Words } from '../words/index.ts';
import { useSpeech } from '../words/context.ts';
import { itemWords } from './itemWords.ts';
import { namesOf, peopleOf } from './people.ts';
import type { Planning } from './planning.ts';
import { stepAsked } from './steps.ts';

interface Props {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly shown: Shown;
  readonly planning: Planning;
}

const whats = ['these', 'saved', 'plan'] as const;
type What = (typeof whats)[number];

interface Named {
  readonly name: string;
  readonly asked: Asked;
}

const these = ({ asked }: Shown, { letting }: Words): readonly Named[] => {
  const { bars = '' } = requestOf(asked);
  return [{ name: letting.journal.bars(bars), asked }];
};

/** Drills by what is to go in. */
const drillsFor = (
  what: What,
  { keeper, shown, planning }: Props,
  piece: Piece,
  words: Words,
): readonly Named[] => {
  if (what === 'these') return these(shown, words);
  if (what === 'saved')
    return drillsOf(keeper.now.state.records, piece.id).flatMap(({ name, asked }) => {
      const found = askedIn(asked);
      return found === undefined ? [] : [{ name, asked: found }];
    });
  const seen = new Set<string>();
  return planning.rehearsal(piece).plan.flatMap((item) => {
    const found = planning.stepOf(item);
    if (found === null || seen.has(item.place)) return [];
    seen.add(item.place);
    return [
      {
        name: itemWords({ ...item, kind: 'work' }, shown.places, words),
        asked: { ...nothingAsked, ...stepAsked(found.step, nothingAsked) },
      },
    ];
  });
};

const Ready = ({ planning }: { readonly planning: Planning }) => {
  const { letting } = useSpeech().words;
  const { packs } = planning.now;
  if (packs.length === 0) return null;
  return (
    <>
      <p>{letting.home.ready}</p>
      <ul>
        {packs.map(({ name, bytes }) => (
          <li key={name}>
            <button type="button" class="do" onClick={() => savedFile(name, bytes)}>
              {letting.home.save(name.replace(/^.* - |\.zip$/g, ''))} <span class="file">{name}</span>
            </button>
          </li>
        ))}
      </ul>
    </>
  );
};

const Open = (props: Props & { readonly piece: Piece }) => {
  const speech = useSpeech();
  const { words, language } = speech;
  const { home: said } = words.letting;
  const { keeper, session, shown, planning, piece } = props;
  const [chosen, setChosen] = useState<What>('these');
  const offered = whats.filter((what) => what === 'these' || drillsFor(what, props, piece, words).length > 0);
  const what = offered.find((one) => one === chosen) ?? 'these';
  const { making, problems } = planning.now;
  const { score } = session;
  const make = (): void => {
    const look = shown.piece?.look;
    if (score === null || look === undefined) return;
    const drills = drillsFor(what, props, piece, words).map(({ name, asked }) => ({
      name,
      texts: requestOf(asked),
    }));
    const sound = soundOf(shown.sound, []);
    void planning.pack({
      ...score,
      drills,
      sound,
      spoken: shown.sound.count === 'spoken' ? language : null,
      language,
      players: namesOf(peopleOf(keeper, piece, look)),
    });
  };
  return (
    <>
      <p class="aside">{said.help}</p>
      {offered.length > 1 && (
        <p>
          {said.what}{' '}
          <Pick
            name="pack-what"
            label={said.whatLabel}
            value={what}
            choices={offered.map((one) => ({ value: one, words: said[one] }))}
            onPick={(value) => setChosen(whats.find((one) => one === value) ?? 'these')}
          />
        </p>
      )}
      <p>
        <button
          type="button"
          class="do"
          disabled={making !== null || score === null || shown.drill === null}
          onClick={make}
        >
          {said.make}
        </button>
        {making?.kind === 'packs' && (
          <button type="button" class="do" onClick={() => planning.stop()}>
            {said.stop}
          </button>
        )}
      </p>
      <p role="status" class="aside">
        {making?.kind === 'packs' ? said.making(making.progress.done, making.progress.of) : ''}
      </p>
      <Ready planning={planning} />
      {problems
        // What was told of the score stands above already.
        .filter((one) => shown.problems.every(({ message }) => message !== one.message))
        .map((one) => (
          <p key={one.message} class={one.severity === 'error' ? 'error' : 'aside'}>
            {problemText(one, speech)}
          </p>
        ))}
    </>
  );
};

export const TakeHome = (props: Props) => {
  const { letting } = useSpeech().words;
  const { piece } = props.keeper.now;
  const fold = useFold('home');
  if (piece === null || props.shown.piece === null || props.shown.piece.look.parts.length === 0) return null;
  return (
    <details
      class="take-home"
      open={fold.open}
      onToggle={(event) => {
        fold.onToggle(event);
        if (!event.currentTarget.open) props.planning.forgetPacks();
      }}
    >
      <summary>{letting.home.title}</summary>
      {fold.open && <Open {...props} piece={piece} />}
    </details>
  );
};
