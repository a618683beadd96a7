/** The journal: takes by piece, place and step, growth, notes, rehearsals; taken along, brought in, and what there is of each player. */
import { useEffect } from 'preact/hooks';
import {
  editableJournal,
  journalOf,
  pieceTitle,
  piecesOf,
  type Ensemble,
  type Journal,
  type Piece,
} from '../../desk/index.ts';
import { savedFile } from '../../host/browser/index.ts';
import type { HeardTakes } from '../reading/heardTakes.ts';
import type { Session, Shown } from '../session.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { bare } from '../shelf/records.ts';
import type { KeptTakes } from '../takes/keptTakes.ts';
import { problemText } from '../words/index.ts';
import { useSpeech, useWords } from '../words/context.ts';
import { Back } from './Back.tsx';
import { JournalPlace, placeWords } from './JournalPieces.tsx';
import { Notes, type Named } from './Notes.tsx';
import { homeOf } from './people.ts';
import { PlayersData } from './PlayersData.tsx';

interface Props {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly shown: Shown;
  readonly kept: KeptTakes;
  readonly heard: HeardTakes;
}

const playersOf = ({ players }: Ensemble): readonly Named[] =>
  Object.entries(players).flatMap(([id, player]) => (player === null ? [] : [{ id, name: player.name }]));

interface PieceProps {
  readonly keeper: Keeper;
  readonly journal: Journal;
  readonly piece: Piece;
  readonly players: readonly Named[];
  readonly shown: Shown;
}

const OnePiece = ({ keeper, journal, piece, players, shown }: PieceProps) => {
  const words = useWords();
  const open = keeper.now.piece?.id === piece.id;
  const places = open ? shown.places : [];
  const takes = [...(journal.takes.get(piece.id) ?? [])];
  if (takes.length === 0 && !open && journal.notes.every((note) => note.piece !== piece.id)) return null;
  const named = new Map([
    ...takes.map(([place, list]) => [place, placeWords({ place, takes: list, places }, words)] as const),
    ...places.map((place) => [place.key, words.places.row(place)] as const),
  ]);
  return (
    <section class="ensemble" aria-label={pieceTitle(piece)}>
      <h2>{pieceTitle(piece)}</h2>
      {takes.length === 0 && <p class="aside">{words.letting.journal.none}</p>}
      {takes.map(([place, list]) => (
        <JournalPlace
          key={place}
          journal={journal}
          piece={piece}
          place={place}
          takes={list}
          places={places}
        />
      ))}
      <Notes
        keeper={keeper}
        journal={journal}
        piece={piece}
        players={players}
        places={[...named].map(([id, name]) => ({ id, name }))}
      />
    </section>
  );
};

const Rehearsals = ({ journal, home }: { readonly journal: Journal; readonly home: Ensemble }) => {
  const { page, letting } = useWords();
  const said = letting.journal;
  const rehearsals = journal.rehearsals.filter(({ ensemble }) => ensemble === home.id);
  if (rehearsals.length === 0) return null;
  return (
    <details>
      <summary>{said.rehearsals}</summary>
      <ul>
        {rehearsals.map(({ id, day, minutes, present, plan }) => {
          const who = playersOf(home).filter((player) => present[player.id] === true);
          const names = page.listed(who.map(({ name }) => name));
          return (
            <li key={id}>
              {plan.length === 0
                ? said.taken(said.day(day), names)
                : said.rehearsal(said.day(day), minutes, names)}
            </li>
          );
        })}
      </ul>
    </details>
  );
};

const Together = ({ keeper, home }: { readonly keeper: Keeper; readonly home: Ensemble }) => {
  const speech = useSpeech();
  const { shelf, letting } = speech.words;
  const said = letting.journal;
  const { records } = keeper.now.state;
  const along = (): void => {
    const pieces = new Set(piecesOf(records, home.id).map(({ id }) => id));
    const own = [...records].filter(([, { kind, value }]) =>
      kind === 'gone'
        ? true
        : kind === 'ensemble' || kind === 'rehearsal'
          ? value.id === home.id || value['ensemble'] === home.id
          : kind === 'piece'
            ? pieces.has(value.id)
            : (kind === 'journal-take' || kind === 'journal-note') && pieces.has(value.piece),
    );
    const text = editableJournal.text(new Map(own));
    savedFile(said.fileName(bare(home.name || shelf.firstEnsemble)), new TextEncoder().encode(text));
  };
  const { said: told } = keeper.now;
  return (
    <section class="new" aria-label={said.files}>
      <p>
        <button type="button" class="do" onClick={along}>
          {said.along}
        </button>
      </p>
      <p class="open">
        <label>
          <span>{said.bring}</span>
          <input
            type="file"
            name="bring-journal"
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              event.currentTarget.value = '';
              if (file !== undefined) void keeper.openFile(file).then(() => (location.hash = '#journal'));
            }}
          />
        </label>{' '}
        <small>{said.bringHelp}</small>
      </p>
      <div role="status">
        {told !== null && told.words !== '' && <p>{told.words}</p>}
        {told?.problems.map((one) => (
          <p key={one.message} class={one.severity === 'error' ? 'error' : ''}>
            {problemText(one, speech)}
          </p>
        ))}
      </div>
    </section>
  );
};

export const JournalPage = ({ keeper, session, shown, kept, heard }: Props) => {
  const { journal: said } = useWords().letting;
  const { piece, state } = keeper.now;
  const home = piece === null ? null : homeOf(keeper, piece);
  useEffect(() => session.playback.stop(), []);
  const journal = journalOf(state.records.values());
  const pieces = home === null ? [] : piecesOf(state.records, home.id);
  // The piece on the stand first.
  const sorted = [...pieces].sort((a, b) => Number(b.id === piece?.id) - Number(a.id === piece?.id));
  return (
    <main class="shelf journal">
      <h1>{said.title}</h1>
      <Back />
      {sorted.map((one) => (
        <OnePiece
          key={one.id}
          keeper={keeper}
          journal={journal}
          piece={one}
          players={home === null ? [] : playersOf(home)}
          shown={shown}
        />
      ))}
      {home !== null && (
        <>
          <Rehearsals journal={journal} home={home} />
          <Together keeper={keeper} home={home} />
          <PlayersData keeper={keeper} kept={kept} heard={heard} ensemble={home} />
        </>
      )}
    </main>
  );
};
