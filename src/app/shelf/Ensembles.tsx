/** The ensembles, each with its pieces and players. */
import { ensemblesOf, keysOfEnsemble, piecesOf, type Ensemble } from '../../desk/index.ts';
import { Asking } from './Asking.tsx';
import { Name, Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { Pieces } from './Pieces.tsx';
import { shelfWords } from './words.ts';

export const nameOf = ({ name }: Ensemble): string => name || shelfWords.firstEnsemble;

const Players = ({ keeper, ensemble }: { readonly keeper: Keeper; readonly ensemble: Ensemble }) => {
  const players = Object.entries(ensemble.players).flatMap(([id, player]) =>
    player === null ? [] : [{ id, ...player }],
  );
  if (players.length === 0) return null;
  const change = (id: string, player: { name: string; instrument: string } | null): void =>
    keeper.change(`ensemble:${ensemble.id}`, { players: { [id]: player } });
  return (
    <details class="people">
      <summary>
        {shelfWords.players}: {players.map(({ name }) => name).join(', ')}
      </summary>
      <ul>
        {players.map(({ id, name, instrument, ...more }) => (
          <li key={id}>
            <Name
              name={`player-${id}`}
              label={shelfWords.playerName(name)}
              value={name}
              onType={(written) => change(id, { ...more, name: written, instrument })}
            />{' '}
            <Name
              name={`instrument-${id}`}
              label={shelfWords.playerInstrument(name)}
              value={instrument}
              onType={(written) => change(id, { ...more, name, instrument: written })}
            />{' '}
            <Word
              words={shelfWords.left}
              label={shelfWords.playerLeft(name)}
              onPress={() => change(id, null)}
            />
          </li>
        ))}
      </ul>
    </details>
  );
};

export const Ensembles = ({ keeper }: { readonly keeper: Keeper }) => {
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
                label={shelfWords.ensembleName}
                value={ensemble.name}
                hint={shelfWords.firstEnsemble}
                onType={(name) => keeper.change(`ensemble:${ensemble.id}`, { name })}
              />
            </h2>
            <Pieces keeper={keeper} pieces={pieces} homes={homes} />
            <Players keeper={keeper} ensemble={ensemble} />
            {ensembles.length > 1 && (
              <p class="about">
                <Word
                  words={shelfWords.takeEnsemble}
                  onPress={() =>
                    void keeper.takeAlong(keysOfEnsemble(records, ensemble.id), nameOf(ensemble))
                  }
                />{' '}
                <Asking
                  words={shelfWords.removeEnsemble}
                  question={shelfWords.askRemoveEnsemble(nameOf(ensemble), pieces.length)}
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
