/** The ensembles, each with its pieces and players. */
import { ensemblesOf, keysOfEnsemble, piecesOf, type Ensemble } from '../../desk/index.ts';
import { Asking } from './Asking.tsx';
import { Name, Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { Pieces } from './Pieces.tsx';
import { useWords } from '../words/context.ts';

const Players = ({ keeper, ensemble }: { readonly keeper: Keeper; readonly ensemble: Ensemble }) => {
  const { shelf } = useWords();
  const players = Object.entries(ensemble.players).flatMap(([id, player]) =>
    player === null ? [] : [{ id, ...player }],
  );
  if (players.length === 0) return null;
  const change = (id: string, player: { name: string; instrument: string } | null): void =>
    keeper.change(`ensemble:${ensemble.id}`, { players: { [id]: player } });
  return (
    <details class="people">
      <summary>
        {shelf.players}: {players.map(({ name }) => name).join(', ')}
      </summary>
      <ul>
        {players.map(({ id, name, instrument, ...more }) => (
          <li key={id}>
            <Name
              name={`player-${id}`}
              label={shelf.playerName(name)}
              value={name}
              onType={(written) => change(id, { ...more, name: written, instrument })}
            />{' '}
            <Name
              name={`instrument-${id}`}
              label={shelf.playerInstrument(name)}
              value={instrument}
              onType={(written) => change(id, { ...more, name, instrument: written })}
            />{' '}
            <Word words={shelf.left} label={shelf.playerLeft(name)} onPress={() => change(id, null)} />
          </li>
        ))}
      </ul>
    </details>
  );
};

export const Ensembles = ({ keeper }: { readonly keeper: Keeper }) => {
  const { shelf } = useWords();
  const nameOf = ({ name }: Ensemble): string => name || shelf.firstEnsemble;
  const { records } = keeper.now.state;
  const ensembles = ensemblesOf(records);
  const homes = ensembles.map((one) => ({ value: one.id, words: nameOf(one) }));
  return (
    <>
      {ensembles.map((ensemble) => {
        const pieces = piecesOf(records, ensemble.id);
        return (
          <section key={ensemble.id} class="ensemble" aria-label={nameOf(ensemble)}>
            <h2>
              <Name
                name={`ensemble-${ensemble.id}`}
                label={shelf.ensembleName}
                value={ensemble.name}
                hint={shelf.firstEnsemble}
                onType={(name) => keeper.change(`ensemble:${ensemble.id}`, { name })}
              />
            </h2>
            <Pieces keeper={keeper} pieces={pieces} homes={homes} />
            <Players keeper={keeper} ensemble={ensemble} />
            {ensembles.length > 1 && (
              <p class="about">
                <Word
                  words={shelf.takeEnsemble}
                  onPress={() =>
                    void keeper.takeAlong(keysOfEnsemble(records, ensemble.id), nameOf(ensemble))
                  }
                />{' '}
                <Asking
                  words={shelf.removeEnsemble}
                  question={shelf.askRemoveEnsemble(nameOf(ensemble), pieces.length)}
                  onYes={() => void keeper.remove(keysOfEnsemble(records, ensemble.id), nameOf(ensemble))}
                />
              </p>
            )}
          </section>
        );
      })}
    </>
  );
};
