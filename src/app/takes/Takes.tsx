/** The takes of the piece on the stand, under the bars that they are of. */
import { soundsOf, takesOf, type Overview, type Take, type TakeSound } from '../../desk/index.ts';
import { useFold } from '../fold.ts';
import type { HeardTakes } from '../reading/heardTakes.ts';
import type { Session, Shown } from '../session.ts';
import { Asking } from '../shelf/Asking.tsx';
import { Word } from '../shelf/Fields.tsx';
import type { Keeper } from '../shelf/keeping.ts';
import { problemText, type Words } from '../words/index.ts';
import { useSpeech, useWords } from '../words/context.ts';
import type { KeptTakes } from './keptTakes.ts';
import { OneTake } from './OneTake.tsx';
import type { Recording } from './recording.ts';

export interface TakesProps {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly shown: Shown;
  readonly recording: Recording;
  readonly kept: KeptTakes;
  readonly heard: HeardTakes;
}

/** Takes by the bars that they are of; those of the bars on the page first, then as they were played last. */
const grouped = (
  list: readonly Take[],
  now: string,
): readonly (readonly [bars: string, takes: readonly Take[]])[] => {
  const groups = new Map<string, Take[]>();
  for (const take of list) {
    const bars = barsOf(take.asked);
    groups.set(bars, [...(groups.get(bars) ?? []), take]);
  }
  return [...groups].sort(([a], [b]) => Number(b === now) - Number(a === now));
};

const barsOf = ({ from = '', to = '' }: Readonly<Record<string, string>>): string =>
  `${from.trim()}-${to.trim()}`;

const barsWords = (bars: string, places: Shown['places'], { takes }: Words): string => {
  const [from = '', to = ''] = bars.split('-');
  const number = places.find((place) => place.bars === bars)?.number;
  const words = from === '' && to === '' ? takes.whole : takes.bars(from, to);
  return number === undefined ? words : `${words}, ${takes.place(number)}`;
};

/** What was cut off and is offered once more. */
const Found = ({ kept }: { readonly kept: KeptTakes }) => {
  const { takes } = useWords();
  return (
    <>
      {kept.now.found.map(({ file, seconds, begun }) => {
        const when = begun === '' ? '' : takes.begun(new Date(begun));
        return (
          <div key={file} role="alert" class="trouble" data-found={file}>
            <p>{takes.found(when, takes.clock(seconds))}</p>
            <p>
              <Word words={takes.keepFound} onPress={() => void kept.keep(file)} />{' '}
              <Word words={takes.dropFound} onPress={() => void kept.drop(file)} />
            </p>
          </div>
        );
      })}
    </>
  );
};

/** A name that says take and recording. */
const fileName = ({ name: called, begun }: Take, { name }: TakeSound): string =>
  [called || begun.slice(0, 16), name.replace(/\.[^.]*$/, '')].filter((one) => one !== '').join(' ');

/** Bytes of an hour: one channel of 32-bit samples at 48 kHz. */
const hour = 48_000 * 4 * 3600;

interface RoomProps {
  readonly keeper: Keeper;
  readonly kept: KeptTakes;
  /** Takes of the piece. */
  readonly list: readonly Take[];
}

const Room = ({ keeper, kept, list }: RoomProps) => {
  const { takes } = useWords();
  const { state, lasting } = keeper.now;
  const { room } = kept.now;
  const sounds = [...state.records.values()].flatMap((record) =>
    record.kind === 'take' ? Object.values(record.value.sounds).flatMap((sound) => sound ?? []) : [],
  );
  if (sounds.length === 0) return null;
  const bytes = sounds.reduce((sum, sound) => sum + sound.bytes, 0);
  const hours = (room?.left ?? 0) / hour;
  const minutes = Math.floor(hours * 60);
  const along = async (): Promise<void> => {
    for (const take of list)
      for (const [id, sound] of soundsOf(take)) await kept.takeAlong(take, id, sound, fileName(take, sound));
  };
  return (
    <>
      <p class="aside room">
        {takes.used((bytes / 1e6).toFixed(1))}{' '}
        {room !== null &&
          takes.room(minutes >= 120 ? takes.hours(Math.floor(hours)) : takes.minutes(minutes))}{' '}
        {!lasting && sounds.some(({ along }) => !along) && <span class="nudge">{takes.nudge}</span>}
      </p>
      {list.length > 0 && (
        <p>
          <Word words={takes.allAlong} onPress={() => void along()} />
        </p>
      )}
    </>
  );
};

const Bring = ({ kept }: { readonly kept: KeptTakes }) => {
  const { takes } = useWords();
  return (
    <p class="open">
      <label>
        <span>{takes.bringNew}</span>
        <input
          type="file"
          name="bring-takes"
          multiple
          accept="audio/*"
          onChange={(event) => {
            const files = [...(event.currentTarget.files ?? [])];
            event.currentTarget.value = '';
            void kept.bring(files);
          }}
        />
      </label>{' '}
      <small>{takes.bringHelp}</small>
    </p>
  );
};

interface GroupsProps extends TakesProps {
  readonly look: Overview['look'];
  readonly piece: string;
}

const Groups = (props: GroupsProps) => {
  const words = useWords();
  const { keeper, shown, piece } = props;
  const now = barsOf({ ...shown.asked });
  return (
    <>
      {grouped(takesOf(keeper.now.state.records, piece), now).map(([bars, list]) => (
        <section key={bars} class="take-group" aria-label={barsWords(bars, shown.places, words)}>
          <h2>
            {barsWords(bars, shown.places, words)}
            {bars === now && <span class="aside"> ({words.takes.these})</span>}
          </h2>
          <ul>
            {list.map((take) => (
              <OneTake key={take.id} {...props} take={take} />
            ))}
          </ul>
        </section>
      ))}
    </>
  );
};

export const Takes = (props: TakesProps) => {
  const speech = useSpeech();
  const { takes } = speech.words;
  const { keeper, shown, recording, kept } = props;
  const { piece, state } = keeper.now;
  const fold = useFold('takes');
  const { problem } = kept.now;
  if (piece === null || shown.piece === null) return <Found kept={kept} />;
  const list = takesOf(state.records, piece.id);
  const count = list.length;
  return (
    <div class="takes">
      <Found kept={kept} />
      {problem !== null && (
        <p class="error" role="alert" data-code={problem.code}>
          {problemText(problem, speech)}
        </p>
      )}
      <details {...fold}>
        <summary>
          {takes.takes}
          {count > 0 && ` (${count})`}
        </summary>
        {fold.open && (
          <>
            {count === 0 && <p class="aside">{takes.none}</p>}
            <Groups {...props} look={shown.piece.look} piece={piece.id} />
            <Bring kept={kept} />
            <Room keeper={keeper} kept={kept} list={list} />
            <p>
              <Word words={takes.checkAgain} onPress={() => recording.check()} />
            </p>
          </>
        )}
      </details>
    </div>
  );
};

/** The same question as on the shelf, with this one's own yes. */
export const Delete = ({ name, onYes }: { readonly name: string; readonly onYes: () => void }) => {
  const { takes } = useWords();
  return (
    <Asking
      words={takes.remove}
      label={takes.removeLabel(name)}
      question={takes.askRemove(name)}
      yes={takes.really}
      onYes={onYes}
    />
  );
};
