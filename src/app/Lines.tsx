/** Systems of music with what can be touched on them: their bars, and the beats where clicks stand or could stand. */
import type { ScreenBar, ScreenSystem } from '../desk/index.ts';
import type { BarRange } from './barNames.ts';
import { System } from './Music.tsx';
import { useWords } from './words/context.ts';

/** How bars and beats are shown. */
export interface Marked {
  readonly passage: BarRange | null;
  /** Bars that are being drawn over, or taken by keys. */
  readonly drawn: BarRange | null;
  /** What the Tab key comes to: a `data-key`. */
  readonly at: string;
  /** Whether clicks can be put and taken. */
  readonly beats: boolean;
  /** Whether a marking waits for its note: notes are touched, not bars. */
  readonly notes: boolean;
  /** What a part is called, by its id. */
  readonly partName: (id: string) => string;
}

export const barKey = (barIndex: number): string => `bar ${barIndex}`;
const beatKey = (barIndex: number, beat: string): string => `beat ${barIndex} ${beat}`;

const noteKey = (element: string): string => `note ${element}`;

const inside = (range: BarRange | null, bar: number): boolean =>
  range !== null && range.first <= bar && bar <= range.last;

const share = (part: number, whole: number): string => `${(100 * part) / whole}%`;

/** From half way to the beat before to half way to the next. */
const beatEdges = ({ beats, left, right }: ScreenBar, i: number): { left: number; right: number } => {
  const x = beats[i]?.x ?? left;
  const next = beats[i + 1]?.x;
  const end = next === undefined ? right : (x + next) / 2;
  const before = beats[i - 1]?.x;
  return { left: before === undefined ? Math.max(left, x - (end - x)) : (before + x) / 2, right: end };
};

const Bar = ({ bar, width, marked }: { bar: ScreenBar; width: number; marked: Marked }) => {
  const { hand } = useWords();
  const { barIndex, number, left, right } = bar;
  const key = barKey(barIndex);
  const drawn = inside(marked.drawn, barIndex);
  return (
    <button
      type="button"
      class={drawn ? 'bar drawn' : 'bar'}
      data-key={key}
      data-bar={barIndex}
      tabIndex={marked.at === key ? 0 : -1}
      aria-label={hand.bar(number)}
      aria-pressed={marked.drawn === null ? inside(marked.passage, barIndex) : drawn}
      style={{ left: share(left, width), width: share(right - left, width) }}
    />
  );
};

const Beats = ({ bar, width, marked }: { bar: ScreenBar; width: number; marked: Marked }) => {
  const { hand } = useWords();
  return (
    <>
      {bar.beats.map(({ beat, clicked, x }, i) => {
        const key = beatKey(bar.barIndex, beat);
        const { left, right } = beatEdges(bar, i);
        return (
          <button
            key={key}
            type="button"
            class="beat"
            data-key={key}
            data-bar={bar.barIndex}
            data-beat={beat}
            tabIndex={marked.at === key ? 0 : -1}
            aria-label={hand.beat(bar.number, beat, clicked)}
            aria-pressed={clicked}
            style={{
              left: share(left, width),
              width: share(right - left, width),
              '--x': share(x - left, right - left),
            }}
          />
        );
      })}
    </>
  );
};

/** Notes and rests. A touch near one is meant for it (`Hands`), so they may stand as close as music does. */
const Notes = ({ system, marked }: { system: ScreenSystem; marked: Marked }) => {
  const { marking } = useWords();
  return (
    <div class="note-places">
      {system.heads.map(({ element, part, note, barIndex, number, beat, rest, staff, x, y }) => {
        const key = noteKey(element);
        return (
          <button
            key={key}
            type="button"
            class="note-place"
            data-key={key}
            data-bar={barIndex}
            data-beat={beat}
            data-part={part}
            data-note={note}
            data-staff={staff}
            tabIndex={marked.at === key ? 0 : -1}
            aria-label={marking.note(number, beat, marked.partName(part), rest)}
            style={{ left: share(x, system.width), top: share(y, system.height) }}
          />
        );
      })}
    </div>
  );
};

interface LineProps {
  readonly system: ScreenSystem;
  /** What the system shows, in words. */
  readonly label: string;
  readonly marked: Marked;
}

/** One system. */
export const Line = ({ system, label, marked }: LineProps) => {
  const { bars, width, height, tickLine } = system;
  return (
    <div class="line">
      <System system={system} label={label} />
      {marked.notes ? (
        <Notes system={system} marked={marked} />
      ) : (
        <div class="bars">
          {bars.map((bar, i) => (
            <Bar key={`${i} ${bar.barIndex}`} bar={bar} width={width} marked={marked} />
          ))}
        </div>
      )}
      {marked.beats && (
        <div class="beats" style={{ top: share(tickLine, height) }}>
          {bars.map((bar, i) => (
            <Beats key={`${i} ${bar.barIndex}`} bar={bar} width={width} marked={marked} />
          ))}
        </div>
      )}
    </div>
  );
};
