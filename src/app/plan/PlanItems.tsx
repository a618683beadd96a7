/** The plan as a list that is changed by hand: order, minutes, what is left out. */
import type { Piece, Rehearsal } from '../../desk/index.ts';
import { Write } from '../Fields.tsx';
import type { Shown } from '../session.ts';
import { Word } from '../shelf/Fields.tsx';
import { useWords } from '../words/context.ts';
import { itemWords, shortWords } from './itemWords.ts';
import type { Planning } from './planning.ts';

interface Props {
  readonly planning: Planning;
  readonly piece: Piece;
  readonly plan: Rehearsal['plan'];
  readonly places: Shown['places'];
}

const minutesOf = (text: string, before: number): number => {
  const count = /^\s*\d{1,4}\s*$/.test(text) ? Number(text) : before;
  return Math.max(1, Math.min(1440, count));
};

export const PlanItems = ({ planning, piece, plan, places }: Props) => {
  const words = useWords();
  const { plan: said } = words.letting;
  const starts = plan.map((_, i) => plan.slice(0, i).reduce((sum, { minutes }) => sum + minutes, 0));
  return (
    <ol class="plan-items" aria-label={said.list}>
      {plan.map((item, i) => {
        const what = itemWords(item, places, words);
        const short = `${said.at(starts[i] ?? 0)} ${shortWords(item, words)}`;
        return (
          <li key={`${i} ${item.place}`} class={planning.now.run?.at === i ? 'now' : ''}>
            <p>
              <span class="plan-time">{said.at(starts[i] ?? 0)}</span>{' '}
              <Write
                name={`minutes-${i}`}
                label={said.itemMinutes(short)}
                value={String(item.minutes)}
                size={2}
                digits
                step={(value, by) => String(minutesOf(value, item.minutes) + by)}
                onWrite={(text) =>
                  planning.edit(piece, { kind: 'minutes', at: i, minutes: minutesOf(text, item.minutes) })
                }
              />{' '}
              {said.short} <span class="plan-what">{what}</span>
            </p>
            <p class="plan-hands">
              {i > 0 && (
                <Word
                  words={said.up}
                  label={said.labelled(said.up, short)}
                  onPress={() => planning.edit(piece, { kind: 'move', from: i, to: i - 1 })}
                />
              )}
              {i < plan.length - 1 && (
                <Word
                  words={said.down}
                  label={said.labelled(said.down, short)}
                  onPress={() => planning.edit(piece, { kind: 'move', from: i, to: i + 1 })}
                />
              )}
              <Word
                words={said.out}
                label={said.labelled(said.out, short)}
                onPress={() => planning.edit(piece, { kind: 'remove', at: i })}
              />
            </p>
          </li>
        );
      })}
    </ol>
  );
};
