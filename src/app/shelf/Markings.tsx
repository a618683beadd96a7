/** Players' own markings: what to write is chosen here, where it goes by a touch on a beat of the page. */
import { useState } from 'preact/hooks';
import { markingKinds, markingsOf, newMarking, type Marking, type Overview } from '../../desk/index.ts';
import { freshTag } from '../../host/browser/index.ts';
import { choicesOf, dynamicValues } from '../choices.ts';
import { Pick, Write } from '../Fields.tsx';
import type { Session, Shown } from '../session.ts';
import { useWords } from '../words/context.ts';
import { Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';

interface Props {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly shown: Shown;
  readonly piece: string;
}

const partName = (look: Overview['look'], id: string): string => {
  const part = look.parts.find((one) => one.id === id);
  return part === undefined ? '' : part.name || part.id;
};

const kindNamed = (value: string): Marking['kind'] => markingKinds.find((kind) => kind === value) ?? 'words';

/** Marks that concern all players at once. */
const forAll = new Set<Marking['kind']>(['rit', 'a-tempo']);

const List = ({ keeper, piece, look }: ListProps) => {
  const { marking: said } = useWords();
  return (
    <ul>
      {markingsOf(keeper.now.state.records, piece).map((one) => {
        const what = one.text === '' ? said.kinds[one.kind] : `${said.kinds[one.kind]} “${one.text}”`;
        const text = said.row(look.bars[one.bar]?.number ?? '', one.beat, what, partName(look, one.part));
        return (
          <li key={one.id}>
            {text}{' '}
            <Word
              words={said.rub}
              label={`${said.rub}: ${text}`}
              onPress={() => void keeper.remove([`marking:${one.id}`], text)}
            />
          </li>
        );
      })}
    </ul>
  );
};

interface ListProps {
  readonly keeper: Keeper;
  readonly piece: string;
  readonly look: Overview['look'];
}

export const Markings = ({ keeper, session, shown, piece }: Props) => {
  const { marking: said } = useWords();
  const [kind, setKind] = useState<Marking['kind']>('breath');
  const [part, setPart] = useState('');
  const [text, setText] = useState('');
  const [dynamics, setDynamics] = useState<string>('p');
  const look = shown.piece?.look;
  if (look === undefined) return null;
  const written = kind === 'dynamics' ? dynamics : ['cue', 'leads', 'words'].includes(kind) ? text : '';
  const needsText = kind === 'cue' || kind === 'leads' || kind === 'words';
  const places = shown.placing !== null;
  const place = (): void => {
    session.place(
      places ? null : { kind, part: forAll.has(kind) ? '' : part, text: written.trim() },
      (marking) => keeper.add({ kind: 'marking', value: newMarking(freshTag(), piece, marking) }),
    );
  };
  return (
    <details class="markings">
      <summary>{said.heading}</summary>
      <p>
        {said.write}{' '}
        <Pick
          name="marking-kind"
          label={said.kindLabel}
          value={kind}
          choices={choicesOf(markingKinds, said.kinds)}
          onPick={(value) => {
            session.place(null);
            setKind(kindNamed(value));
          }}
        />{' '}
        {kind === 'dynamics' && (
          <Pick
            name="marking-dynamics"
            label={said.dynamicsLabel}
            value={dynamics}
            choices={dynamicValues.map((value) => ({ value, words: value }))}
            onPick={(value) => {
              session.place(null);
              setDynamics(value);
            }}
          />
        )}
        {needsText && (
          <Write
            name="marking-text"
            label={said.textLabel}
            value={text}
            size={8}
            onWrite={(value) => {
              session.place(null);
              setText(value);
            }}
          />
        )}
      </p>
      {!forAll.has(kind) && (
        <p>
          {said.into}{' '}
          <Pick
            name="marking-part"
            label={said.partLabel}
            value={part}
            choices={[
              { value: '', words: said.all },
              ...look.parts.map(({ id }) => ({ value: id, words: partName(look, id) })),
            ]}
            onPick={(value) => {
              session.place(null);
              setPart(value);
            }}
          />
        </p>
      )}
      <p>
        <button
          type="button"
          class="do"
          aria-pressed={places}
          disabled={shown.asked.count !== 'auto' || (needsText && text.trim() === '')}
          onClick={place}
        >
          {places ? said.placing : said.place}
        </button>
      </p>
      <List keeper={keeper} piece={piece} look={look} />
    </details>
  );
};
