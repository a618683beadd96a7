/** What is seldom wanted of a drill, folded away; and the ways back from what was changed. */
import { PickLine, WriteLine } from './Fields.tsx';
import { choicesOf, countedValues, tacetValues, upbeatValues } from './choices.ts';
import { useFold } from './fold.ts';
import type { Session, Shown } from './session.ts';
import { useWords } from './words/context.ts';

interface Props {
  readonly session: Session;
  readonly shown: Shown;
}

/** Undo and redo. */
export const Ways = ({ session, shown: { undo } }: Props) => {
  const { hand } = useWords();
  return (
    <p class="undo">
      <button type="button" class="word-button" disabled={!undo.back} onClick={() => session.undo('back')}>
        {hand.undo}
      </button>
      <button type="button" class="word-button" disabled={!undo.on} onClick={() => session.undo('on')}>
        {hand.redo}
      </button>
    </p>
  );
};

export const More = ({ session, shown: { asked } }: Props) => {
  const { hand } = useWords();
  const fold = useFold('more');
  // What is not as usual is not hidden.
  const usual =
    asked.tacet === 'none' && asked.hemiola === '' && asked.upbeat === 'auto' && asked.count === 'auto';
  return (
    <details class="more" {...fold} open={!usual || fold.open}>
      <summary>{hand.more}</summary>
      <PickLine
        words={hand.tacet}
        name="tacet"
        label={hand.tacetLabel}
        value={asked.tacet}
        choices={choicesOf(tacetValues, hand.tacets)}
        onPick={(tacet) => session.ask({ tacet })}
      />
      <WriteLine
        words={hand.hemiola}
        name="hemiola"
        label={hand.hemiolaLabel}
        value={asked.hemiola}
        size={5}
        onWrite={(hemiola) => session.ask({ hemiola: hemiola.trim() })}
      />
      <PickLine
        words={hand.upbeat}
        name="upbeat"
        label={hand.upbeatLabel}
        value={asked.upbeat}
        choices={choicesOf(upbeatValues, hand.upbeats)}
        onPick={(upbeat) => session.ask({ upbeat })}
      />
      <PickLine
        words={hand.count}
        name="count"
        label={hand.countLabel}
        value={asked.count}
        choices={choicesOf(countedValues, hand.counts)}
        onPick={(count) => session.ask({ count })}
      />
      <p class="aside">{hand.beatsHelp}</p>
    </details>
  );
};
