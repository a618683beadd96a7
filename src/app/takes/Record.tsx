/** What stands beside "Play" for those who record: one touch to play and record; while it runs, that it does, and for how long. */
import { useEffect, useState } from 'preact/hooks';
import { useWords } from '../words/context.ts';
import { Before, Recorded } from './Before.tsx';
import type { Recording } from './recording.ts';

interface Props {
  readonly recording: Recording;
  /** Seconds that a start by touch waits. */
  readonly wait: number;
}

/** How long it has run; not read out each second. */
const Since = ({ since }: { readonly since: number }) => {
  const { takes } = useWords();
  const [now, setNow] = useState(performance.now());
  useEffect(() => {
    const timer = setInterval(() => setNow(performance.now()), 500);
    return () => clearInterval(timer);
  }, []);
  return <span role="timer">{takes.clock(Math.max(0, now - since) / 1000)}</span>;
};

/** That it records, in words and time. */
export const Sign = ({ recording }: { readonly recording: Recording }) => {
  const { takes } = useWords();
  const { stage, since } = recording.now;
  return (
    <span class="recording-sign">
      <span role="status">
        {stage === 'recording' ? (
          <>
            {takes.recording}
            <span class="unseen">. {takes.recordingLong}</span>
          </>
        ) : stage === 'ending' ? (
          takes.ending
        ) : (
          ''
        )}
      </span>{' '}
      {stage === 'recording' && since !== null && <Since since={since} />}
    </span>
  );
};

export const Record = ({ recording, wait }: Props) => {
  const { takes } = useWords();
  const { stage } = recording.now;
  return (
    <>
      {(stage === 'away' || stage === 'checking') && (
        <button
          type="button"
          class="word-button"
          disabled={!recording.able}
          onClick={(event) => recording.start(event.detail === 0 ? 0 : wait)}
        >
          {takes.start}
        </button>
      )}
      <Recorded recording={recording} />
    </>
  );
};

/** On the stand: whether every start is recorded, by touch, space or pedal. */
export const RecordStarts = ({ recording }: { readonly recording: Recording }) => {
  const { takes } = useWords();
  const { armed } = recording.now;
  useEffect(() => () => recording.disarm(), []);
  return (
    <>
      <Before recording={recording} wait={0} arms />
      <button type="button" disabled={!recording.able} onClick={() => recording.arm()}>
        {armed ? takes.armed : takes.arm}
      </button>
      <Sign recording={recording} />
      <Recorded recording={recording} />
    </>
  );
};
