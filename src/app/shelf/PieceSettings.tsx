/** What an ensemble sets for the piece on the stand: its title, who plays, how parts sound, the edition's bar numbers. */
import type { Ensemble, Overview, Piece } from '../../desk/index.ts';
import { choicesOf, keyValues, octaveValues } from '../choices.ts';
import { Pick, Write, WriteLine } from '../Fields.tsx';
import { useFold } from '../fold.ts';
import { Name } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { partPlayedBy } from './records.ts';
import { firstFullBar } from './settings.ts';
import { useWords } from '../words/context.ts';

interface Props {
  readonly keeper: Keeper;
  readonly piece: Piece;
  readonly look: Overview['look'];
  readonly ensemble: Ensemble | null;
}

type Part = Overview['look']['parts'][number];

const Sounding = ({ keeper, piece, part }: Omit<Props, 'look' | 'ensemble'> & { readonly part: Part }) => {
  const { settings } = useWords();
  const key = piece.transpositions[part.id] ?? null;
  const name = part.name || part.id;
  return (
    <>
      <Pick
        name={`octave-${part.id}`}
        label={settings.octaveLabel(name)}
        value={String(piece.octaves[part.id] ?? 0)}
        choices={choicesOf(octaveValues, settings.octaves)}
        onPick={(value) => keeper.change(`piece:${piece.id}`, { octaves: { [part.id]: Number(value) } })}
      />
      {', '}
      <Pick
        name={`key-${part.id}`}
        label={settings.keyLabel(name)}
        value={key === null ? '' : `${key.diatonic} ${key.chromatic}`}
        choices={choicesOf(keyValues, settings.keys)}
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
  const { settings } = useWords();
  const first = firstFullBar(look);
  if (first === null) return null;
  return (
    <WriteLine
      words={settings.edition}
      name="edition"
      label={settings.editionLabel}
      value={first}
      size={3}
      digits
      onWrite={(value) => {
        if (!/^\s*\d{1,6}\s*$/.test(value)) return;
        keeper.change(`piece:${piece.id}`, { barShift: keeper.now.shift + Number(value) - Number(first) });
      }}
    >
      {' '}
      {settings.editionAfter}
    </WriteLine>
  );
};

export const PieceSettings = (props: Props) => {
  const { settings } = useWords();
  const fold = useFold('settings');
  const { keeper, piece, look, ensemble } = props;
  return (
    <details class="settings" {...fold}>
      <summary>{settings.heading}</summary>
      <p>
        {settings.title}{' '}
        <Name
          name="piece-title"
          label={settings.titleLabel}
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
            label={settings.plays(part.name || part.id)}
            value={ensemble?.players[piece.players[part.id] ?? '']?.name ?? ''}
            hint={settings.somebody}
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
