/** The margin: what is to be done with the page, as a player would pencil it there. */
import type { ComponentChildren } from 'preact';
import { PickLine, Write, WriteLine } from './Fields.tsx';
import { More, Ways } from './More.tsx';
import { OpenScore, TakeAlong } from './Files.tsx';
import { Offline } from './Offline.tsx';
import { Places } from './Places.tsx';
import { Remarks, Sum } from './Remarks.tsx';
import { own } from './asked.ts';
import type { Session, Shown } from './session.ts';
import { Sound } from './Sound.tsx';
import { choicesOf, clickValues, countValues, keepValues, waitValues } from './choices.ts';
import { LanguageChoice } from './LanguageChoice.tsx';
import { useWords } from './words/context.ts';

interface Props {
  readonly session: Session;
  readonly shown: Shown;
}

const Passage = ({ session, shown: { piece, asked } }: Props) => {
  const { margin } = useWords();
  const bars = piece?.look.bars ?? [];
  const step = (value: string, by: 1 | -1): string => {
    const at = bars.findIndex(({ number }) => number === value.trim());
    return bars[Math.min(bars.length - 1, Math.max(0, at + by))]?.number ?? value;
  };
  return (
    <p>
      {margin.bars}{' '}
      <Write
        name="from"
        label={margin.from}
        value={asked.from}
        size={2}
        digits
        step={step}
        onWrite={(from) => session.ask({ from })}
      />{' '}
      {margin.to}{' '}
      <Write
        name="to"
        label={margin.toLabel}
        value={asked.to}
        size={2}
        digits
        step={step}
        onWrite={(to) => session.ask({ to })}
      />
    </p>
  );
};

const Clicks = ({ session, shown: { asked } }: Props) => {
  const { margin } = useWords();
  return (
    <PickLine
      words={margin.click}
      name="click"
      label={margin.clickLabel}
      value={asked.click}
      choices={choicesOf(clickValues, margin.clicks)}
      onPick={(click) => session.ask({ click })}
    >
      {asked.click === own && (
        <>
          {' '}
          <Write
            name="own-click"
            label={margin.ownClick}
            value={asked.ownClick}
            size={6}
            onWrite={(ownClick) => session.ask({ ownClick })}
          />
        </>
      )}
    </PickLine>
  );
};

const Tempo = ({ session, shown: { asked, drill } }: Props) => {
  const { margin, page, hand } = useWords();
  const steps = drill?.summary.tempi.map(({ perMinute }) => page.figure(perMinute)) ?? [];
  const hint =
    asked.tempo === '' && steps.length > 0 ? `${margin.asPrinted}, ${steps.join(' · ')}` : margin.asPrinted;
  return (
    <WriteLine
      words={margin.tempo}
      name="tempo"
      label={margin.tempoLabel}
      value={asked.tempo}
      hint={hint}
      size={hint.length}
      onWrite={(tempo) => session.ask({ tempo })}
    >
      <span class="pace">
        <button
          type="button"
          class="word-button"
          disabled={drill === null}
          onClick={() => session.tempoBy(-1)}
        >
          {hand.slower}
        </button>
        <button
          type="button"
          class="word-button"
          disabled={drill === null}
          onClick={() => session.tempoBy(1)}
        >
          {hand.faster}
        </button>
      </span>
    </WriteLine>
  );
};

const Times = ({ session, shown: { asked, drill } }: Props) => {
  const { margin } = useWords();
  return (
    <WriteLine
      words={margin.times((drill?.drill.tempo.length ?? 0) > 1)}
      name="times"
      label={margin.timesLabel}
      value={asked.times}
      size={1}
      digits
      step={(value, by) => String(Math.max(1, (Number.parseInt(value, 10) || 1) + by))}
      onWrite={(times) => session.ask({ times })}
    >
      {' '}
      {margin.timesAfter(asked.times.trim())}
    </WriteLine>
  );
};

interface StartProps extends Props {
  readonly record: ComponentChildren;
  readonly sign: ComponentChildren;
}

const Start = ({ session, shown: { playing, wait, sounds, drill, changed }, record, sign }: StartProps) => {
  const { margin, stand } = useWords();
  return (
    <>
      <div class="start">
        <button
          type="button"
          class="play"
          disabled={sounds === false || (drill === null && playing === 'still')}
          onClick={(event) => {
            // A click without a pointer comes from the keyboard: no hands have to go back to the instrument.
            if (playing === 'still') session.playback.play(event.detail === 0 ? 0 : wait);
            else session.playback.stop();
          }}
        >
          {playing === 'still' ? margin.play : margin.stop}
        </button>
        <p class="state" role="status">
          {playing === 'waiting'
            ? margin.hands
            : playing === 'playing'
              ? changed === null
                ? margin.playing
                : margin.later[changed]
              : ''}
        </p>
        {sign}
        {playing === 'playing' && (changed === 'time' || changed === 'start') && (
          <button type="button" class="word-button" onClick={() => session.playback.changeAtBar()}>
            {margin.atBar}
          </button>
        )}
        <button type="button" class="word-button to-stand" onClick={() => session.putOnStand(true)}>
          {stand.put}
        </button>
      </div>
      <div class="start-more">
        {record}
        <p class="quiet">
          {margin.quiet}{' '}
          <a href="./hearing.html" target="_blank" rel="noopener">
            {margin.hearing}
          </a>
        </p>
      </div>
    </>
  );
};

const Wait = ({ session, shown: { wait } }: Props) => {
  const { margin } = useWords();
  return (
    <PickLine
      class="aside"
      words={margin.wait}
      name="wait"
      label={margin.waitLabel}
      value={String(wait)}
      choices={waitValues.map((value) => ({ value: String(value), words: margin.waits(value) }))}
      onPick={(value) => session.waitFor(Number(value))}
    >
      {margin.waitAfter}
    </PickLine>
  );
};

interface MarginProps extends Props {
  readonly onFile: (file: File) => void;
  /** Beside "Play", for those who record; and what comes before that. */
  readonly record: ComponentChildren;
  /** That it records now. */
  readonly sign: ComponentChildren;
  readonly before: ComponentChildren;
  /** What stands below the places: their steps. */
  readonly steps: ComponentChildren;
  /** What belongs to the rehearsal: takes, plan, journal. */
  readonly rehearsing: ComponentChildren;
  /** What the players take home, below the files of the drill. */
  readonly packs: ComponentChildren;
  /** What else is kept about the piece. */
  readonly children: ComponentChildren;
}

export const Margin = (props: MarginProps) => {
  const { session, shown, onFile, record, sign, before, steps, rehearsing, packs, children } = props;
  const { margin } = useWords();
  return (
    <aside class="margin" aria-label={margin.label}>
      <div class="asked">
        <Passage session={session} shown={shown} />
        <PickLine
          words={margin.keep}
          name="keep"
          label={margin.keepLabel}
          value={shown.asked.keep}
          choices={choicesOf(keepValues, margin.keeps)}
          onPick={(keep) => session.ask({ keep })}
        />
        <Clicks session={session} shown={shown} />
        <Tempo session={session} shown={shown} />
        <Times session={session} shown={shown} />
        <PickLine
          words={margin.countIn}
          name="count-in"
          label={margin.countInLabel}
          value={shown.asked.countIn}
          choices={choicesOf(countValues, margin.countIns)}
          onPick={(countIn) => session.ask({ countIn })}
        />
        <More session={session} shown={shown} />
        <Ways session={session} shown={shown} />
      </div>
      <Start session={session} shown={shown} record={record} sign={sign} />
      {before}
      <Sound session={session} shown={shown} />
      <div class="notes">
        <Remarks shown={shown} />
        <Sum shown={shown} />
        <Wait session={session} shown={shown} />
        <div class="group">
          <Places session={session} shown={shown} />
          {steps}
        </div>
        <div class="group">{rehearsing}</div>
        <div class="group">
          <TakeAlong session={session} shown={shown} />
          {packs}
        </div>
        <div class="group">
          {children}
          <OpenScore onFile={onFile} />
          <Offline />
          <LanguageChoice />
        </div>
      </div>
    </aside>
  );
};
