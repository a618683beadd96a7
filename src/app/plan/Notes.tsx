/** Notes in words: written, read, rubbed out. */
import { useState } from 'preact/hooks';
import { goneRecord, type Journal, type JournalNote, type Piece } from '../../desk/index.ts';
import { freshTag } from '../../host/browser/index.ts';
import { Pick } from '../Fields.tsx';
import { Word } from '../shelf/Fields.tsx';
import type { Keeper } from '../shelf/keeping.ts';
import { useWords } from '../words/context.ts';
import { today } from './day.ts';
import { rehearsalId } from './hand.ts';

export interface Named {
  readonly id: string;
  readonly name: string;
}

interface Props {
  readonly keeper: Keeper;
  readonly journal: Journal;
  readonly piece: Piece;
  /** Keys and words of the places that can be written about. */
  readonly places: readonly Named[];
  readonly players: readonly Named[];
}

interface WrittenProps {
  readonly keeper: Keeper;
  readonly note: JournalNote;
  readonly places: readonly Named[];
  readonly players: readonly Named[];
}

const Written = ({ keeper, note, players, places }: WrittenProps) => {
  const { journal: said } = useWords().letting;
  const by = players.find(({ id }) => id === note.by)?.name ?? '';
  const about = places.find(({ id }) => id === note.place)?.name ?? '';
  return (
    <li>
      {said.taken(said.day(note.day), [by, about].filter((one) => one !== '').join(', '))}
      <p class="note-text">{note.text}</p>
      <Word
        words={said.rubOut}
        label={said.rubOutLabel(note.text.slice(0, 60))}
        onPress={() => keeper.add(goneRecord({ kind: 'journal-note', value: note }))}
      />
    </li>
  );
};

export const Notes = ({ keeper, journal, piece, places, players }: Props) => {
  const { journal: said } = useWords().letting;
  const [text, setText] = useState('');
  const [about, setAbout] = useState('');
  const [by, setBy] = useState('');
  const notes = journal.notes.filter((note) => note.piece === piece.id);
  const keep = (): void => {
    const day = today();
    if (text.trim() === '') return;
    keeper.add({
      kind: 'journal-note',
      value: {
        format: 'levare.journal-note/1',
        id: freshTag(),
        piece: piece.id,
        rehearsal: rehearsalId(piece.ensemble, day),
        day,
        place: about,
        by,
        text: text.trim().slice(0, 2000),
        stamps: {},
      },
    });
    setText('');
  };
  return (
    <section class="new" aria-label={said.notes}>
      <h2>{said.notes}</h2>
      <ul>
        {notes.map((note) => (
          <Written key={note.id} keeper={keeper} note={note} players={players} places={places} />
        ))}
      </ul>
      <textarea
        name="note"
        rows={2}
        maxLength={2000}
        aria-label={said.writeLabel}
        value={text}
        onInput={(event) => setText(event.currentTarget.value)}
      />
      <p>
        {said.about}{' '}
        <Pick
          name="note-about"
          label={said.aboutLabel}
          value={about}
          choices={[
            { value: '', words: said.whole },
            ...places.map(({ id, name }) => ({ value: id, words: name })),
          ]}
          onPick={setAbout}
        />{' '}
        {players.length > 0 && (
          <>
            {said.by}{' '}
            <Pick
              name="note-by"
              label={said.byLabel}
              value={by}
              choices={[
                { value: '', words: said.all },
                ...players.map(({ id, name }) => ({ value: id, words: name })),
              ]}
              onPick={setBy}
            />
          </>
        )}{' '}
        <button type="button" class="do" disabled={text.trim() === ''} onClick={keep}>
          {said.keep}
        </button>
      </p>
    </section>
  );
};
