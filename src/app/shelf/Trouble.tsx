/** What is to be told about the keeping of the shelf, and what can be done about it. */
import { problemText } from '../words/index.ts';
import { Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { useSpeech } from '../words/context.ts';

export const Trouble = ({ keeper }: { readonly keeper: Keeper }) => {
  const speech = useSpeech();
  const { shelf } = speech.words;
  const { trouble, state } = keeper.now;
  const problem = trouble ?? state.trouble;
  return (
    <>
      {problem !== null && (
        <div role="alert" class="trouble" data-code={problem.code}>
          <p class="error">{problemText(problem, speech)}</p>
          <Word
            words={shelf.takeAll}
            onPress={() => void keeper.takeAlong(state.records.keys(), shelf.wholeFile)}
          />
        </div>
      )}
      {state.damaged.map((one) => (
        <p key={one.message} class="error">
          {problemText(one, speech)}
        </p>
      ))}
    </>
  );
};
