/** What sounds and how loud: letters beside the names, as in a score. */
import { levelLetters, type LevelLetter } from '../desk/liveSound.ts';
import { Pick, PickLine, WriteLine } from './Fields.tsx';
import type { Session, Shown } from './session.ts';
import { levelOf } from './soundSettings.ts';
import { useWords } from './words/context.ts';

interface Props {
  readonly session: Session;
  readonly shown: Shown;
}

const silent = 'silent';

const letters = levelLetters.map((letter) => ({ value: letter, words: letter }));

const letterOf = (value: string): LevelLetter | null =>
  levelLetters.find((letter) => letter === value) ?? null;

const Levels = ({ session, shown: { piece, drill, sound } }: Props) => {
  const said = useWords().sound;
  const kept = new Set(drill?.parts?.ids ?? []);
  const names = piece?.look.parts.filter(({ id }) => kept.has(id)) ?? [];
  return (
    <>
      {names.map(({ id, name }) => (
        <PickLine
          key={id}
          class="level"
          words={name === '' ? id : name}
          name={`level-${id}`}
          label={`${name === '' ? id : name}: ${said.heading}`}
          value={levelOf(sound, id) ?? silent}
          choices={[...letters, { value: silent, words: said.silent }]}
          onPick={(value) => session.soundAs({ levels: { ...sound.levels, [id]: letterOf(value) } })}
        />
      ))}
    </>
  );
};

export const Sound = ({ session, shown }: Props) => {
  const said = useWords().sound;
  const { sound } = shown;
  return (
    <section class="sound" aria-label={said.heading}>
      <p>
        <Pick
          name="sounding"
          label={said.partsLabel}
          value={sound.parts ? 'on' : 'off'}
          choices={[
            { value: 'off', words: said.parts.off },
            { value: 'on', words: said.parts.on },
          ]}
          onPick={(value) => session.soundAs({ parts: value === 'on' })}
        />
        {', '}
        {said.click}{' '}
        <Pick
          name="level-click"
          label={`${said.click}: ${said.heading}`}
          value={sound.click}
          choices={letters}
          onPick={(value) => session.soundAs({ click: letterOf(value) ?? 'ff' })}
        />
        {', '}
        {said.count}{' '}
        <Pick
          name="counts"
          label={said.countLabel}
          value={sound.count}
          choices={[
            { value: 'spoken', words: said.counts.spoken },
            { value: 'clicked', words: said.counts.clicked },
          ]}
          onPick={(value) => session.soundAs({ count: value === 'clicked' ? 'clicked' : 'spoken' })}
        />
      </p>
      {sound.parts && (
        <>
          <Levels session={session} shown={shown} />
          <PickLine
            words={said.place}
            name="place"
            label={said.place}
            value={sound.place}
            choices={[
              { value: 'centre', words: said.places.centre },
              { value: 'left', words: said.places.left },
            ]}
            onPick={(value) => session.soundAs({ place: value === 'left' ? 'left' : 'centre' })}
          />
          <WriteLine
            words={said.pitch}
            name="pitch"
            label={said.pitchLabel}
            value={sound.pitch}
            size={3}
            digits
            step={(value, by) => String(Math.min(466, Math.max(392, (Number(value) || 440) + by)))}
            onWrite={(pitch) => session.soundAs({ pitch })}
          />
        </>
      )}
    </section>
  );
};
