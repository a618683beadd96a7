/** What is kept about each player: given to them as a file, or deleted. */
import { useState } from 'preact/hooks';
import { forgetPlayer, playerData, type Ensemble } from '../../desk/index.ts';
import { freshTag, savedFile } from '../../host/browser/index.ts';
import type { HeardTakes } from '../reading/heardTakes.ts';
import { Asking } from '../shelf/Asking.tsx';
import { Word } from '../shelf/Fields.tsx';
import type { Keeper } from '../shelf/keeping.ts';
import { bare } from '../shelf/records.ts';
import type { KeptTakes } from '../takes/keptTakes.ts';
import { useWords } from '../words/context.ts';

interface Props {
  readonly keeper: Keeper;
  readonly kept: KeptTakes;
  readonly heard: HeardTakes;
  readonly ensemble: Ensemble;
}

export const PlayersData = ({ keeper, kept, heard, ensemble }: Props) => {
  const { journal: said } = useWords().letting;
  const [forgotten, setForgotten] = useState<string | null>(null);
  const players = Object.entries(ensemble.players).flatMap(([id, player]) =>
    player === null ? [] : [{ id, name: player.name }],
  );
  const give = (id: string, name: string): void => {
    const text = `${JSON.stringify(playerData(keeper.now.state.records, id), null, 2)}\n`;
    savedFile(said.playerFile(bare(name)), new TextEncoder().encode(text));
  };
  const forget = async (id: string, name: string): Promise<void> => {
    const { records } = keeper.now.state;
    const left = forgetPlayer(records, id, freshTag());
    // Their own recordings go from the disk too, as the takes lose them, and so does what was read from them.
    for (const record of left) {
      const before = record.kind === 'take' ? records.get(`take:${record.value.id}`) : undefined;
      if (record.kind !== 'take' || before?.kind !== 'take') continue;
      for (const [sound, own] of Object.entries(before.value.sounds))
        if (own !== null && record.value.sounds[sound] === null)
          await kept.removeSound(before.value, sound, own);
      await heard.kept.forget(before.value.id);
    }
    for (const record of left) keeper.add(record);
    setForgotten(name);
  };
  return (
    <details class="players-data">
      <summary>{said.whose}</summary>
      <p role="status">{forgotten === null ? '' : said.forgotten(forgotten)}</p>
      {players.length === 0 && <p class="aside">{said.nobody}</p>}
      <ul>
        {players.map(({ id, name }) => (
          <li key={id}>
            {name}: <Word words={said.give(name)} onPress={() => give(id, name)} />
            <Asking
              words={said.forget}
              label={said.forgetLabel(name)}
              question={said.askForget(name)}
              yes={said.reallyForget}
              onYes={() => void forget(id, name)}
            />
          </li>
        ))}
      </ul>
    </details>
  );
};
