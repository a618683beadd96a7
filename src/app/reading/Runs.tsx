/** The drills that a take holds, where it was changed while it was recorded: the one that is read, and a touch that reads another. */
import { Word } from '../shelf/Fields.tsx';
import { takeName } from '../takes/takeName.ts';
import { useWords } from '../words/context.ts';
import type { HeardTakes } from './heardTakes.ts';

export const Runs = ({ heard }: { readonly heard: HeardTakes }) => {
  const words = useWords();
  const { reading, takes } = words;
  const { take } = heard;
  const { runs } = heard.now;
  if (take === null || runs.length < 2) return null;
  return (
    <section aria-label={reading.runs}>
      <p class="aside">{reading.ofRuns(runs.length)}</p>
      <ul class="files">
        {runs.map(({ from, to, begins, ends, read }, i) => {
          const called = `${from === '' ? takes.whole : takes.bars(from, to)}, ${takes.clock(begins)}–${takes.clock(ends)}`;
          return (
            <li key={i}>
              {read ? (
                reading.runRead(called)
              ) : (
                <Word
                  words={reading.readRun(called)}
                  onPress={() => void heard.readRun(i, takeName(take, words))}
                />
              )}
            </li>
          );
        })}
      </ul>
    </section>
  );
};
