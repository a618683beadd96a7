/** Where one is in the plan while one plays, in words: what, how many minutes are left, and what comes then. */
import { useEffect, useState } from 'preact/hooks';
import type { Piece } from '../../desk/index.ts';
import { useWords } from '../words/context.ts';
import { shortWords } from './itemWords.ts';
import type { Planning, Run } from './planning.ts';

/** Milliseconds from look to look; what is shown changes once a minute. */
const patience = 5000;

interface Props {
  readonly planning: Planning;
  readonly piece: Piece | null;
  /** On the stand, where there is little room. */
  readonly brief: boolean;
}

const Line = ({ planning, piece, run, brief }: Omit<Props, 'piece'> & { piece: Piece; run: Run }) => {
  const words = useWords();
  const { plan: said } = words.letting;
  const [now, setNow] = useState(performance.now());
  useEffect(() => {
    setNow(performance.now());
    const timer = setInterval(() => setNow(performance.now()), patience);
    return () => clearInterval(timer);
  }, [run]);
  const { plan } = planning.rehearsal(piece);
  const [item, next] = [plan[run.at], plan[run.at + 1]];
  if (item === undefined) return null;
  const left = item.minutes - (now - run.since) / 60_000;
  const what = shortWords(item, words);
  return (
    <span class="plan-line" role="group" aria-label={said.running}>
      {left > 0 && <span class="plan-now">{said.remaining(what, Math.floor(left + 0.02))}</span>}
      <span class="plan-now" role="status">
        {left > 0 ? '' : said.over(what)}
      </span>{' '}
      <button type="button" class="do" onClick={() => planning.go(piece, run.at + 1)}>
        {next === undefined ? said.end : said.then(shortWords(next, words))}
      </button>
      {next !== undefined && !brief && (
        <button type="button" class="do" onClick={() => planning.leave()}>
          {said.leave}
        </button>
      )}
    </span>
  );
};

/** Nothing while no plan is gone through. */
export const StandPlan = ({ piece, ...props }: Props) => {
  const { run } = props.planning.now;
  return run === null || piece === null ? null : <Line {...props} piece={piece} run={run} />;
};
