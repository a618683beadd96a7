/** What can be done with a reading: layers, another take beside it, names, files, seats; and that the take does not count. */
import { Pick } from '../Fields.tsx';
import { Word } from '../shelf/Fields.tsx';
import { useWords } from '../words/context.ts';
import { calledOf } from './called.ts';
import type { HeardTakes } from './heardTakes.ts';
import { takeName } from '../takes/takeName.ts';
import { layers, toggled, type Hidden } from './layers.ts';
import { Seats } from './Seats.tsx';

interface Props {
  readonly heard: HeardTakes;
}

interface ShownProps extends Props {
  readonly hidden: Hidden;
  readonly onHide: (hidden: Hidden) => void;
  readonly parts: readonly { readonly id: string; readonly name: string }[];
}

const Layers = ({ hidden, onHide, parts }: Omit<ShownProps, 'heard'>) => {
  const { reading } = useWords();
  return (
    <fieldset class="choice">
      <legend>{reading.layers}</legend>
      {layers.map((layer) => (
        <label key={layer}>
          <input
            type="checkbox"
            name={`layer-${layer}`}
            checked={!hidden.layers.has(layer)}
            onChange={() => onHide({ ...hidden, layers: toggled(hidden.layers, layer) })}
          />
          <span>{reading.kinds[layer]}</span>
        </label>
      ))}
      {parts.length > 1 &&
        parts.map(({ id, name }) => (
          <label key={id}>
            <input
              type="checkbox"
              name={`layer-of-${id}`}
              checked={!hidden.parts.has(id)}
              onChange={() => onHide({ ...hidden, parts: toggled(hidden.parts, id) })}
            />
            <span>{name || id}</span>
          </label>
        ))}
    </fieldset>
  );
};

const fileNames = ['reading.pdf', 'reading.csv', 'reading.json'] as const;

export const Rest = ({ heard, hidden, onHide, parts }: ShownProps) => {
  const words = useWords();
  const { reading } = words;
  const { beside, names, making } = heard.now;
  const { take, others } = heard;
  if (take === null) return null;
  const called = calledOf(take);
  const out = take.out?.['take'] === 'yes';
  return (
    <>
      <Layers hidden={hidden} onHide={onHide} parts={parts} />
      {others.length > 0 && (
        <p>
          {reading.beside}{' '}
          <Pick
            name="beside"
            label={reading.besideLabel}
            value={beside ?? ''}
            choices={[
              { value: '', words: reading.alone },
              ...others.map((one) => ({ value: one.id, words: takeName(one, words) })),
            ]}
            onPick={(id) => void heard.holdBeside(id === '' ? null : id)}
          />
          {beside !== null && <span class="aside"> {reading.besideHelp}</span>}
        </p>
      )}
      {parts.some(({ id }) => heard.seating.playerOf(id) !== '') && (
        <p>
          {reading.names}{' '}
          <Pick
            name="names"
            label={reading.namesLabel}
            value={names}
            choices={[
              { value: 'parts', words: reading.byParts },
              { value: 'players', words: reading.byNames },
            ]}
            onPick={(value) => heard.callBy(value === 'players' ? 'players' : 'parts')}
          />
        </p>
      )}
      <details>
        <summary>{reading.take}</summary>
        <ul class="files">
          {fileNames.map((name) => (
            <li key={name}>
              <Word
                words={making === name ? reading.making : reading.files[name]}
                onPress={() => void heard.along(name, called)}
              />
            </li>
          ))}
          <li>
            <Word
              words={reading.sound(heard.soundKinds)}
              onPress={() => void heard.soundAlong(false, called)}
            />
          </li>
          <li>
            <Word
              words={making === 'flac' ? reading.making : reading.flac}
              onPress={() => void heard.soundAlong(true, called)}
            />
          </li>
        </ul>
      </details>
      <Seats heard={heard} parts={parts} />
      <p>{out && reading.takeIsOut}</p>
      <p>
        <Word words={out ? reading.takeIn : reading.takeOut} onPress={() => heard.takeOut(['take'], !out)} />{' '}
        <Word words={reading.anew} onPress={() => void heard.open(take, takeName(take, words), true)} />
      </p>
    </>
  );
};
