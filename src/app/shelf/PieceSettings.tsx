/** What an ensemble sets for the piece on the stand: its title, who plays, how parts sound, the edition's bar numbers. */
import type { Ensemble, Overview, Piece } from '../../desk/index.ts';
import { Pick, Write } from '../Fields.tsx';
import { Name } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { partPlayedBy } from './records.ts';
import { firstFullBar } from './settings.ts';
import { keyChoices, octaveChoices, settingsWords } from './words.ts';

interface Props {
  readonly keeper: Keeper;
  readonly piece: Piece;
  readonly look: Overview['look'];
  readonly ensemble: Ensemble | null;
}

type Part = Overview['look']['parts'][number];

const Sounding = ({ keeper, piece, part }: Omit<Props, 'look' | 'ensemble'> & { readonly part: Part }) => {
  const key = piece.transpositions[part.id] ?? null;
  const name = part.name || part.id;
  return (
    <>
      <Pick
        name={`octave-${part.id}`}
        label={settingsWords.octaveLabel(name)}
        value={String(piece.octaves[part.id] ?? 0)}
        choices={octaveChoices}
        onPick={(value) => keeper.change(`piece:${piece.id}`, { octaves: { [part.id]: Number(value) } })}
      />
      {', '}
      <Pick
        name={`key-${part.id}`}
        label={settingsWords.keyLabel(name)}
        value={key === null ? '' : `${key.diatonic} ${key.chromatic}`}
        choices={keyChoices}
        onPick={(value) => {
          const [diatonic, chromatic] = value.split(' ').map(Number);
          keeper.change(`piece:${piece.id}`, {
            transpositions: {
              [part.id]: diatonic === undefined || chromatic === undefined ? null : { diatonic, chromatic },
            },
          });
        }}
      />
    </>
  );
};

const Edition = ({ keeper, piece, look }: Props) => {
  const first = firstFullBar(look);
  if (first === null) return null;
  return (
    <p>
      {settingsWords.edition}{' '}
      <Write
        name="edition"
        label={settingsWords.editionLabel}
        value={first}
        size={3}
        digits
        onWrite={(value) => {
          if (!/^\s*\d{1,6}\s*$/.test(value)) return;
          keeper.change(`piece:${piece.id}`, { barShift: keeper.now.shift + Number(value) - Number(first) });
        }}
      />{' '}
      {settingsWords.editionAfter}
    </p>
  );
};

export const PieceSettings = (props: Props) => {
  const { keeper, piece, look, ensemble } = props;
  return (
    <details class="settings">
      <summary>{settingsWords.heading}</summary>
      <p>
        {settingsWords.title}{' '}
        <Name
          name="piece-title"
          label={settingsWords.titleLabel}
          value={piece.title}
          hint={piece.found || piece.file}
          onType={(title) => keeper.change(`piece:${piece.id}`, { title })}
        />
      </p>
      <Edition {...props} />
      {look.parts.map((part) => (
        <p key={part.id} class="part">
          {part.name || part.id}:{' '}
          <Write
            name={`plays-${part.id}`}
            label={settingsWords.plays(part.name || part.id)}
            value={ensemble?.players[piece.players[part.id] ?? '']?.name ?? ''}
            hint={settingsWords.somebody}
            size={6}
            onWrite={(name) => partPlayedBy(keeper, { id: part.id, name: part.name || part.id }, name)}
          />
          {', '}
          <Sounding keeper={keeper} piece={piece} part={part} />
        </p>
      ))}
    </details>
  );
};
