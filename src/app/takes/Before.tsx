/** Before a take: what is to be agreed on, the microphone and its level; after it, how it ended. */
import { useEffect, useRef } from 'preact/hooks';
import { Pick } from '../Fields.tsx';
import { Word } from '../shelf/Fields.tsx';
import { problemText, type Words } from '../words/index.ts';
import { useSpeech, useWords } from '../words/context.ts';
import type { Recording } from './recording.ts';

interface Props {
  readonly recording: Recording;
  /** Where every start can be recorded: on the stand. */
  readonly arms: boolean;
  /** Seconds that a start by touch waits. */
  readonly wait: number;
}

const Asks = ({ recording }: { readonly recording: Recording }) => {
  const { takes } = useWords();
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => place.current?.focus(), []);
  return (
    <div ref={place} tabIndex={-1} role="group" aria-label={takes.asks} class="asks">
      <p>{takes.askEveryone}</p>
      <p>{takes.askLocal}</p>
      <p>{takes.askMicrophone}</p>
      <p>
        <Word words={takes.agreed} onPress={() => recording.agree()} />{' '}
        <Word words={takes.notNow} onPress={() => recording.putAway()} />
      </p>
    </div>
  );
};

const processingWords = (unasked: readonly string[], { takes, page }: Words): string => {
  const names: Readonly<Record<string, string>> = takes.processing;
  return takes.unasked(page.listed(unasked.map((name) => names[name] ?? name)));
};

const Check = ({ recording, arms, wait }: Props) => {
  const words = useWords();
  const { takes } = words;
  const { loudness, microphone, microphones, click } = recording.now;
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => place.current?.focus(), []);
  return (
    <div ref={place} tabIndex={-1} role="group" aria-label={takes.checkAgain} class="asks">
      <p>
        {takes.check}{' '}
        <span role="status" class="level-word">
          {loudness === null ? '' : takes.level[loudness]}
        </span>
      </p>
      {microphones.length > 1 && (
        <p>
          {takes.microphone}{' '}
          <Pick
            name="microphone"
            label={takes.microphoneLabel}
            value={microphone?.id ?? ''}
            choices={microphones.map(({ id, name }) => ({
              value: id,
              words: name || takes.microphoneUnnamed,
            }))}
            onPick={(id) => recording.choose(id)}
          />
        </p>
      )}
      <p>
        {takes.click}{' '}
        <Pick
          name="click-in"
          label={takes.clickLabel}
          value={click}
          choices={[
            { value: 'room', words: takes.clicks.room },
            { value: 'headphones', words: takes.clicks.headphones },
          ]}
          onPick={(value) => recording.clickIn(value === 'headphones' ? 'headphones' : 'room')}
        />
      </p>
      <p class="aside">{click === 'room' ? takes.clickRoom : takes.clickHeadphones}</p>
      {microphone !== null && microphone.unasked.length > 0 && (
        <p class="aside">{processingWords(microphone.unasked, words)}</p>
      )}
      <p>
        {arms ? (
          <Word words={takes.arm} onPress={() => recording.arm()} />
        ) : (
          <button
            type="button"
            class="do"
            disabled={!recording.able}
            onClick={(event) => recording.start(event.detail === 0 ? 0 : wait)}
          >
            {takes.start}
          </button>
        )}{' '}
        <Word words={takes.putAway} onPress={() => recording.putAway()} />
      </p>
    </div>
  );
};

/** What went wrong with the microphone, or cut the last take off. */
const Wrong = ({ recording }: { readonly recording: Recording }) => {
  const speech = useSpeech();
  const { problem, cut } = recording.now;
  return (
    <>
      {problem !== null && (
        <p class="error" role="alert" data-code={problem.code}>
          {problemText(problem, speech)}
        </p>
      )}
      {cut !== null && (
        <p class="error" role="alert" data-cut={cut}>
          {speech.words.takes.cut[cut]}
        </p>
      )}
    </>
  );
};

/** That the last take is kept, and whether it was too loud. */
export const Recorded = ({ recording }: { readonly recording: Recording }) => {
  const { takes } = useWords();
  const { stage, last } = recording.now;
  return (
    <span class="recorded" role="status">
      {stage === 'opening' ? takes.opening : ''}
      {stage === 'away' && last !== null && last.seconds > 0 && (
        <>
          {takes.done(last.seconds)} {last.loud && takes.wasLoud}
        </>
      )}
    </span>
  );
};

export const Before = (props: Props) => {
  const { takes } = useWords();
  const { recording } = props;
  const { stage, problem, cut } = recording.now;
  if (stage !== 'asking' && stage !== 'checking' && problem === null && cut === null) return null;
  return (
    <section class="recording" aria-label={takes.heading}>
      {stage === 'asking' && <Asks recording={recording} />}
      {stage === 'checking' && <Check {...props} />}
      <Wrong recording={recording} />
    </section>
  );
};
