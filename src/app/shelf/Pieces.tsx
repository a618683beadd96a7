/** The pieces of one ensemble, as a plain list, with what can be done about each. */
import { keysOfPiece, keysToTakeAlong, pieceTitle, type Piece } from '../../desk/index.ts';
import { Pick } from '../Fields.tsx';
import { Asking } from './Asking.tsx';
import { Name, Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { useWords } from '../words/context.ts';

interface Home {
  readonly value: string;
  readonly words: string;
}

const One = ({
  keeper,
  piece,
  homes,
}: {
  readonly keeper: Keeper;
  readonly piece: Piece;
  readonly homes: readonly Home[];
}) => {
  const { shelf } = useWords();
  const title = pieceTitle(piece) || shelf.untitled;
  const { piece: onStand, state } = keeper.now;
  const { records } = state;
  const isOpen = onStand?.id === piece.id;
  return (
    <li data-piece={piece.id}>
      <button
        type="button"
        class="piece"
        aria-label={shelf.open(title)}
        aria-current={isOpen ? 'true' : undefined}
        onClick={() => void keeper.open(piece.id)}
      >
        {title}
      </button>
      <details>
        <summary aria-label={shelf.about(title)}>{shelf.more}</summary>
        <p>
          {shelf.shownAs}{' '}
          <Name
            name={`title-${piece.id}`}
            label={shelf.pieceName(title)}
            value={piece.title}
            hint={piece.found || piece.file}
            onType={(written) => keeper.change(`piece:${piece.id}`, { title: written })}
          />
        </p>
        {homes.length > 1 && (
          <p>
            {shelf.standsWith}{' '}
            <Pick
              name={`home-${piece.id}`}
              label={shelf.moveTo(title)}
              value={piece.ensemble}
              choices={homes}
              onPick={(ensemble) => void keeper.move(piece, ensemble)}
            />
          </p>
        )}
        <p>
          <Word
            words={shelf.takeAlong}
            label={shelf.takePiece(title)}
            onPress={() => void keeper.takeAlong(keysToTakeAlong(records, piece), title)}
          />{' '}
          <Asking
            words={shelf.remove}
            label={shelf.removePiece(title)}
            question={shelf.askRemove(title)}
            onYes={() => void keeper.remove(keysOfPiece(records, piece.id), title)}
          />
        </p>
      </details>
    </li>
  );
};

export const Pieces = ({
  keeper,
  pieces,
  homes,
}: {
  readonly keeper: Keeper;
  readonly pieces: readonly Piece[];
  readonly homes: readonly Home[];
}) => {
  const { shelf } = useWords();
  return pieces.length === 0 ? (
    <p class="aside">{shelf.empty}</p>
  ) : (
    <ul class="pieces">
      {pieces.map((piece) => (
        <One key={piece.id} keeper={keeper} piece={piece} homes={homes} />
      ))}
    </ul>
  );
};
