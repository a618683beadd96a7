/** One take in the list: heard, named, taken along, deleted; and the recordings that were laid to it. */
import { useEffect, useState } from 'preact/hooks';
import { soundsOf, type Overview, type Performed, type Take, type TakeSound } from '../../desk/index.ts';
import { Pick } from '../Fields.tsx';
import { ReadTake } from '../reading/ReadTake.tsx';
import { Name, Word } from '../shelf/Fields.tsx';
import { askedIn } from '../shelf/settings.ts';
import { useWords } from '../words/context.ts';
import type { Words } from '../words/index.ts';
import { isSound } from './keptTakes.ts';
import { takeName } from './takeName.ts';
import { Delete, type TakesProps } from './Takes.tsx';

interface Props extends TakesProps {
  readonly take: Take;
  readonly look: Overview['look'];
}

const lengthOf = (take: Take, { takes }: Words): string => {
  const seconds = soundsOf(take).find(([, sound]) => sound.seconds !== null)?.[1].seconds;
  return seconds === undefined || seconds === null ? '' : takes.clock(seconds);
};

/** Bars at which listening can begin: more than this are no list to choose from. */
const mostPoints = 300;

/** Seconds before a bar at which one begins to listen, so that its first note is heard whole. */
const before = 0.2;

const Points = ({ name, performed, from, onFrom }: PointsProps) => {
  const { takes } = useWords();
  const bars = performed.runs.flatMap((run) => run.bars);
  const several = bars.some(({ rep }) => rep > 1);
  return (
    <>
      {takes.from}{' '}
      <Pick
        name="listen-from"
        label={takes.fromLabel(name)}
        value={String(from)}
        choices={[
          { value: '0', words: takes.beginning },
          ...bars.slice(0, mostPoints).map(({ sample, rep, number }) => ({
            value: String(Math.max(0, sample / performed.rate - before)),
            words: takes.barOf(number, rep, several),
          })),
        ]}
        onPick={(value) => onFrom(Number(value))}
      />
    </>
  );
};

interface PointsProps {
  readonly name: string;
  readonly performed: Performed;
  readonly from: number;
  readonly onFrom: (seconds: number) => void;
}

const Sound = ({ kept, keeper, take, look, id, sound }: SoundProps) => {
  const words = useWords();
  const { takes } = words;
  const shown = sound.name || takeName(take, words);
  const several = soundsOf(take).filter(([, { recorded }]) => !recorded).length > 1;
  const plays = kept.now.heard === sound.file;
  return (
    <li data-sound={id}>
      <span class="file-name">{sound.name}</span>{' '}
      <Word
        words={plays ? takes.stop : takes.listen}
        label={plays ? takes.stop : takes.listenTo(shown)}
        onPress={() => void kept.listen(sound, 0)}
      />
      {takes.of}{' '}
      <Pick
        name={`of-${id}`}
        label={takes.ofLabel(shown)}
        value={sound.part}
        choices={[
          { value: '', words: several ? takes.notSaid : takes.all },
          ...look.parts.map((part) => ({ value: part.id, words: part.name || part.id })),
        ]}
        onPick={(part) => keeper.change(`take:${take.id}`, { sounds: { [id]: { ...sound, part } } })}
      />{' '}
      <Word
        words={takes.along}
        label={takes.alongLabel(shown)}
        onPress={() =>
          void kept.takeAlong(take, id, sound, `${take.name} ${sound.name.replace(/\.[^.]*$/, '')}`)
        }
      />
      <Delete name={shown} onYes={() => void kept.removeSound(take, id, sound)} />
    </li>
  );
};

interface SoundProps extends Props {
  readonly id: string;
  readonly sound: TakeSound;
}

const More = (props: Props & { readonly name: string }) => {
  const { keeper, session, kept, take, name } = props;
  const { takes } = useWords();
  const key = `take:${take.id}`;
  const sounds = soundsOf(take);
  const own = sounds.find(([, { recorded }]) => recorded);
  const asked = askedIn(take.asked);
  return (
    <>
      <p>
        {takes.called}{' '}
        <Name
          name={`take-${take.id}`}
          label={takes.nameLabel(name)}
          value={take.name}
          hint={name}
          onType={(written) => keeper.change(key, { name: written })}
        />
      </p>
      <p>
        {takes.click}{' '}
        <Pick
          name={`click-in-${take.id}`}
          label={`${takes.clickLabel}: ${name}`}
          value={take.click}
          choices={[
            { value: 'room', words: takes.clicks.room },
            { value: 'headphones', words: takes.clicks.headphones },
          ]}
          onPick={(click) => keeper.change(key, { click })}
        />
      </p>
      <p>
        {own !== undefined && (
          <>
            <Word
              words={takes.along}
              label={takes.alongLabel(name)}
              onPress={() => void kept.takeAlong(take, own[0], own[1], name)}
            />{' '}
            <Word
              words={takes.times}
              label={takes.timesLabel(name)}
              onPress={() => void kept.timesAlong(take, name)}
            />{' '}
          </>
        )}
        {asked !== undefined && (
          <Word words={takes.takeUp} label={takes.takeUpLabel(name)} onPress={() => session.ask(asked)} />
        )}
      </p>
      <ul>
        {sounds
          .filter(([, { recorded }]) => !recorded)
          .map(([id, sound]) => (
            <Sound key={id} {...props} id={id} sound={sound} />
          ))}
      </ul>
      <p class="open">
        <label>
          <span>{takes.bring}</span>
          <input
            type="file"
            name={`bring-${take.id}`}
            aria-label={takes.bringLabel(name)}
            multiple
            accept="audio/*"
            onChange={(event) => {
              const files = [...(event.currentTarget.files ?? [])];
              event.currentTarget.value = '';
              void kept.bring(files, take);
            }}
          />
        </label>
      </p>
      <p>
        <Delete name={name} onYes={() => void kept.remove(take, name)} />
      </p>
    </>
  );
};

export const OneTake = (props: Props) => {
  const words = useWords();
  const { takes } = words;
  const { kept, take } = props;
  const name = takeName(take, words);
  const first = soundsOf(take)[0]?.[1];
  const [from, setFrom] = useState(0);
  const [performed, setPerformed] = useState<Performed | null>(null);
  useEffect(() => {
    void kept.performed(take).then(setPerformed);
  }, [take.id]);
  const plays = first !== undefined && kept.now.heard === first.file;
  return (
    <li
      data-take={take.id}
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        const files = [...(event.dataTransfer?.files ?? [])];
        if (!files.some(isSound)) return;
        event.preventDefault();
        event.stopPropagation();
        void kept.bring(files, take);
      }}
    >
      <p class="take">
        {name} <span class="aside">{lengthOf(take, words)}</span>{' '}
        <span class="aside">{takes.ends[take.ended]}</span>
      </p>
      <p class="take-line">
        {first !== undefined && (
          <Word
            words={plays ? takes.stop : takes.listen}
            label={plays ? takes.stop : takes.listenTo(name)}
            onPress={() => void kept.listen(first, from)}
          />
        )}
        {performed !== null && first?.recorded === true && (
          <Points name={name} performed={performed} from={from} onFrom={setFrom} />
        )}
        {first !== undefined && <ReadTake heard={props.heard} take={take} name={name} />}
      </p>
      <details>
        <summary aria-label={takes.moreAbout(name)}>{takes.more}</summary>
        <More {...props} name={name} />
      </details>
    </li>
  );
};
