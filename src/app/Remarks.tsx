/** What is to be told about the drill: remarks, errors, and what it comes to. */
import { useFold } from './fold.ts';
import type { Shown } from './session.ts';
import { useSpeech, useWords } from './words/context.ts';
import { problemText } from './words/index.ts';

export const Sum = ({ shown: { drill } }: { readonly shown: Shown }) => {
  const { margin } = useWords();
  if (drill === null) return null;
  const { clicks, duration, countIn } = drill.summary;
  return (
    <p class="aside" data-clicks={drill.clicks.length}>
      {margin.sum(clicks, countIn, duration)}
    </p>
  );
};

/** More remarks than this are folded. */
const fewRemarks = 2;

export const Remarks = ({ shown: { error, problems, drill } }: { readonly shown: Shown }) => {
  const speech = useSpeech();
  const fold = useFold('remarks');
  const old = new Set(drill?.fromScore.map(({ code, message }) => `${code} ${message}`) ?? []);
  const isOld = ({ code, message }: (typeof problems)[number]) => old.has(`${code} ${message}`);
  const here = problems.filter((one) => !isOld(one));
  const onScore = problems.filter(isOld);
  const folded = here.length > fewRemarks ? [...here.slice(fewRemarks), ...onScore] : onScore;
  return (
    <div class="remarks">
      {error !== null && (
        <p role="alert" class="error">
          {problemText(error, speech)}
        </p>
      )}
      {here.slice(0, fewRemarks).map((one) => (
        <p key={problemText(one, speech)}>{problemText(one, speech)}</p>
      ))}
      {folded.length > 0 && (
        <details {...fold}>
          <summary>{speech.words.margin.remarks(folded.length)}</summary>
          <ul>
            {folded.map((one) => (
              <li key={problemText(one, speech)}>{problemText(one, speech)}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
};
