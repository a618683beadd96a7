/** What is to be told about the keeping of the shelf, and what can be done about it. */
import { problemWords } from '../wording.ts';
import { Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { shelfWords } from './words.ts';

export const Trouble = ({ keeper }: { readonly keeper: Keeper }) => {
  const { trouble, state } = keeper.now;
  const problem = trouble ?? state.trouble;
  return (
    <>
      {problem !== null && (
        <div role="alert" class="trouble" data-code={problem.code}>
          <p class="error">{problemWords(problem)}</p>
          <Word
            words={shelfWords.takeAll}
            onPress={() => void keeper.takeAlong(state.records.keys(), shelfWords.wholeFile)}
          />
        </div>
      )}
      {state.damaged.map((one) => (
        <p key={one.message} class="error">
          {problemWords(one)}
        </p>
      ))}
    </>
  );
};
