/** What is to be told about the drill: remarks, errors, and what it comes to. */
import type { Shown } from './session.ts';
import { lasting, problemWords, words } from './wording.ts';

export const Sum = ({ shown: { drill } }: { readonly shown: Shown }) => {
  if (drill === null) return null;
  const { clicks, duration, countIn } = drill.summary;
  const counted = countIn.length === 0 ? '' : ` after “${countIn.join(', ')}”`;
  return (
    <p class="aside" data-clicks={drill.clicks.length}>
      {clicks === 1 ? 'One click' : `${clicks} clicks`}
      {counted}; {lasting(duration)} in all.
    </p>
  );
};

/** More remarks than this are folded. */
const fewRemarks = 2;

export const Remarks = ({ shown: { error, problems, drill } }: { readonly shown: Shown }) => {
  const old = new Set(drill?.fromScore.map(({ code, message }) => `${code} ${message}`) ?? []);
  const isOld = ({ code, message }: (typeof problems)[number]) => old.has(`${code} ${message}`);
  const here = problems.filter((one) => !isOld(one));
  const onScore = problems.filter(isOld);
  const folded = here.length > fewRemarks ? [...here.slice(fewRemarks), ...onScore] : onScore;
  return (
    <div class="remarks">
      {error !== null && (
        <p role="alert" class="error">
          {problemWords(error)}
        </p>
      )}
      {here.slice(0, fewRemarks).map((one) => (
        <p key={problemWords(one)}>{problemWords(one)}</p>
      ))}
      {folded.length > 0 && (
        <details>
          <summary>
            {folded.length} {folded.length === 1 ? 'remark' : 'remarks'} {words.remarks}
          </summary>
          <ul>
            {folded.map((one) => (
              <li key={problemWords(one)}>{problemWords(one)}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
};
