/** Players' own markings: what to write is chosen here, where it goes by a touch on a note or a beat of the page. */
import { useState } from 'preact/hooks';
import {
  markingKinds,
  markingsFile,
  markingsOf,
  newMarking,
  type Marking,
  type MarkingText,
  type Overview,
} from '../../desk/index.ts';
import { freshTag, savedFile } from '../../host/browser/index.ts';
import { choicesOf, dynamicValues, timeValues } from '../choices.ts';
import { Pick, PickLine, Write } from '../Fields.tsx';
import { useFold } from '../fold.ts';
import type { Session, Shown } from '../session.ts';
import { useWords } from '../words/context.ts';
import { Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { bare } from './records.ts';

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

/** Chosen in place of a part: that of the note which is touched. */
const asTouched = 'touched';

interface ListProps {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly piece: string;
  readonly look: Overview['look'];
}

const List = ({ keeper, session, piece, look }: ListProps) => {
  const { marking: said } = useWords();
  const markings = markingsOf(keeper.now.state.records, piece);
  const takeAlong = (): void => {
    const record = keeper.now.state.records.get(`piece:${piece}`);
    if (record?.kind === 'piece')
      savedFile(said.fileName(bare(look.title)), markingsFile(record.value.score, look.title, markings));
  };
  return (
    <>
      <ul>
        {markings.map((one) => {
          const words = one.time === null ? one.text : said.timed(one.time, one.text);
          const what = words === '' ? said.kinds[one.kind] : `${said.kinds[one.kind]} “${words}”`;
          const text = said.row(look.bars[one.bar]?.number ?? '', one.beat, what, partName(look, one.part));
          return (
            <li key={one.id}>
              {text}{' '}
              <Word words={said.rub} label={`${said.rub}: ${text}`} onPress={() => session.mark(one, null)} />
            </li>
          );
        })}
      </ul>
      {markings.length > 0 && (
        <p>
          <Word words={said.takeAlong} onPress={takeAlong} />
        </p>
      )}
    </>
  );
};

/** By keyboard the way to the notes leads through the whole margin: the focus goes there at once. */
const goToNotes = (): void => {
  requestAnimationFrame(() => document.querySelector<HTMLElement>('.hands .note-place')?.focus());
};

export const Markings = ({ keeper, session, shown, piece }: Props) => {
  const { marking: said } = useWords();
  const fold = useFold('markings');
  const [kind, setKind] = useState<Marking['kind']>('breath');
  const [part, setPart] = useState<string>(asTouched);
  const [text, setText] = useState('');
  const [dynamics, setDynamics] = useState<string>('p');
  const [time, setTime] = useState<(typeof timeValues)[number]>('each');
  const look = shown.piece?.look;
  if (look === undefined) return null;
  const needsText = kind === 'cue' || kind === 'leads' || kind === 'words';
  const written = kind === 'dynamics' ? dynamics : needsText ? text.trim() : '';
  const places = shown.placing !== null;
  /** What is chosen otherwise waits for no place any more. */
  const choosing =
    <T extends string>(choose: (value: T) => void) =>
    (value: T): void => {
      session.touches.place(null);
      choose(value);
    };
  const place = (byKeys: boolean): void => {
    if (places) {
      session.touches.place(null);
      return;
    }
    const placing = {
      kind,
      part: forAll.has(kind) ? '' : part === asTouched ? null : part,
      text: written,
      time: kind === 'dynamics' && time !== 'each' ? Number(time) : null,
    };
    session.touches.place(placing, (marking: MarkingText) =>
      session.mark(null, newMarking(freshTag(), piece, marking)),
    );
    if (byKeys) goToNotes();
  };
  return (
    <details class="markings" {...fold}>
      <summary>{said.heading}</summary>
      <p>
        {said.write}{' '}
        <Pick
          name="marking-kind"
          label={said.kindLabel}
          value={kind}
          choices={choicesOf(markingKinds, said.kinds)}
          onPick={choosing((value: string) => setKind(kindNamed(value)))}
        />{' '}
        {kind === 'dynamics' && (
          <>
            <Pick
              name="marking-dynamics"
              label={said.dynamicsLabel}
              value={dynamics}
              choices={dynamicValues.map((value) => ({ value, words: value }))}
              onPick={choosing(setDynamics)}
            />{' '}
            <Pick
              name="marking-time"
              label={said.timeLabel}
              value={time}
              choices={choicesOf(timeValues, said.times)}
              onPick={choosing((value: string) => setTime(timeValues.find((one) => one === value) ?? 'each'))}
            />
          </>
        )}
        {needsText && (
          <Write
            name="marking-text"
            label={said.textLabel}
            value={text}
            size={8}
            onWrite={choosing(setText)}
          />
        )}
      </p>
      {!forAll.has(kind) && (
        <PickLine
          words={said.into}
          name="marking-part"
          label={said.partLabel}
          value={part}
          choices={[
            { value: asTouched, words: said.touched },
            { value: '', words: said.all },
            ...look.parts.map(({ id }) => ({ value: id, words: partName(look, id) })),
          ]}
          onPick={choosing(setPart)}
        />
      )}
      <p>
        <button
          type="button"
          class="do"
          aria-pressed={places}
          disabled={shown.asked.count !== 'auto' || (needsText && text.trim() === '')}
          onClick={({ detail }) => place(detail === 0)}
        >
          {places ? said.placing : said.place}
        </button>
      </p>
      <List keeper={keeper} session={session} piece={piece} look={look} />
    </details>
  );
};
