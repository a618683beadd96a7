/** The margin: what is to be done with the page, as a player would pencil it there. */
import type { ComponentChildren } from 'preact';
import { Pick, Write } from './Fields.tsx';
import { OpenScore, TakeAlong } from './Files.tsx';
import { Offline } from './Offline.tsx';
import { Places } from './Places.tsx';
import { Remarks, Sum } from './Remarks.tsx';
import { own } from './asked.ts';
import type { Session, Shown } from './session.ts';
import { Sound } from './Sound.tsx';
import { clickChoices, countChoices, keepChoices, standWords, waitChoices, words } from './wording.ts';

interface Props {
  readonly session: Session;
  readonly shown: Shown;
}

const Passage = ({ session, shown: { piece, asked } }: Props) => {
  const bars = piece?.look.bars ?? [];
  const step = (value: string, by: 1 | -1): string => {
    const at = bars.findIndex(({ number }) => number === value.trim());
    return bars[Math.min(bars.length - 1, Math.max(0, at + by))]?.number ?? value;
  };
  return (
    <p>
      bars{' '}
      <Write
        name="from"
        label="From bar"
        value={asked.from}
        size={2}
        digits
        step={step}
        onWrite={(from) => session.ask({ from })}
      />{' '}
      to{' '}
      <Write
        name="to"
        label="To bar"
        value={asked.to}
        size={2}
        digits
        step={step}
        onWrite={(to) => session.ask({ to })}
      />
    </p>
  );
};

const Clicks = ({ session, shown: { asked } }: Props) => (
  <p>
    click{' '}
    <Pick
      name="click"
      label="Where it clicks"
      value={asked.click}
      choices={clickChoices}
      onPick={(click) => session.ask({ click })}
    />
    {asked.click === own && (
      <>
        {' '}
        <Write
          name="own-click"
          label="Beats that are clicked, such as 2 4, or hemiola:40-41"
          value={asked.ownClick}
          size={6}
          onWrite={(ownClick) => session.ask({ ownClick })}
        />
      </>
    )}
  </p>
);

const Tempo = ({ session, shown: { asked, drill } }: Props) => {
  const steps = drill?.summary.tempi.map(({ perMinute }) => String(Math.round(perMinute * 10) / 10)) ?? [];
  const hint = asked.tempo === '' && steps.length > 0 ? `as printed, ${steps.join(' · ')}` : 'as printed';
  return (
    <p>
      tempo{' '}
      <Write
        name="tempo"
        label="Tempo, or several, such as 72 80 88"
        value={asked.tempo}
        hint={hint}
        size={hint.length}
        onWrite={(tempo) => session.ask({ tempo })}
      />
    </p>
  );
};

const Times = ({ session, shown: { asked, drill } }: Props) => (
  <p>
    {(drill?.drill.tempo.length ?? 0) > 1 ? 'each' : 'play it'}{' '}
    <Write
      name="times"
      label="How many times"
      value={asked.times}
      size={1}
      digits
      step={(value, by) => String(Math.max(1, (Number.parseInt(value, 10) || 1) + by))}
      onWrite={(times) => session.ask({ times })}
    />{' '}
    {asked.times.trim() === '1' ? 'time' : 'times'}
  </p>
);

const Start = ({ session, shown: { playing, wait, sounds, drill, changed } }: Props) => (
  <div class="start">
    <button
      type="button"
      class="play"
      disabled={sounds === false || (drill === null && playing === 'still')}
      onClick={(event) => {
        // A click without a pointer comes from the keyboard: no hands have to go back to the instrument.
        if (playing === 'still') session.play(event.detail === 0 ? 0 : wait);
        else session.stop();
      }}
    >
      {playing === 'still' ? words.play : words.stop}
    </button>
    <p class="state" role="status">
      {playing === 'waiting'
        ? words.hands
        : playing === 'playing'
          ? changed === null
            ? words.playing
            : words.later[changed]
          : ''}
    </p>
    {playing === 'playing' && changed === 'time' && (
      <button type="button" class="word-button" onClick={() => session.changeAtBar()}>
        {words.atBar}
      </button>
    )}
    <button type="button" class="word-button" onClick={() => session.putOnStand(true)}>
      {standWords.put}
    </button>
    <p class="quiet">
      {words.quiet}{' '}
      <a href="./hearing.html" target="_blank" rel="noopener">
        {words.hearing}
      </a>
    </p>
  </div>
);

const Wait = ({ session, shown: { wait } }: Props) => (
  <p class="aside">
    a touch waits{' '}
    <Pick
      name="wait"
      label="Time that a start by touch waits"
      value={String(wait)}
      choices={waitChoices}
      onPick={(value) => session.waitFor(Number(value))}
    />
    , the space key does not
  </p>
);

interface MarginProps extends Props {
  readonly onFile: (file: File) => void;
  /** What else is kept about the piece. */
  readonly children: ComponentChildren;
}

export const Margin = ({ session, shown, onFile, children }: MarginProps) => (
  <aside class="margin" aria-label="Pencilled in the margin">
    <div class="asked">
      <Passage session={session} shown={shown} />
      <p>
        keep{' '}
        <Pick
          name="keep"
          label="Which notes are kept"
          value={shown.asked.keep}
          choices={keepChoices}
          onPick={(keep) => session.ask({ keep })}
        />
      </p>
      <Clicks session={session} shown={shown} />
      <Tempo session={session} shown={shown} />
      <Times session={session} shown={shown} />
      <p>
        count in{' '}
        <Pick
          name="count-in"
          label="Counting in"
          value={shown.asked.countIn}
          choices={countChoices}
          onPick={(countIn) => session.ask({ countIn })}
        />
      </p>
    </div>
    <Start session={session} shown={shown} />
    <Sound session={session} shown={shown} />
    <div class="notes">
      <Remarks shown={shown} />
      <Sum shown={shown} />
      <Places session={session} shown={shown} />
      <Wait session={session} shown={shown} />
      <TakeAlong session={session} shown={shown} />
      {children}
      <OpenScore onFile={onFile} />
      <Offline />
    </div>
  </aside>
);
