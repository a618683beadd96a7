/** What the ear found, strongest first, and the mark that was touched: what it says, and where it is heard. */
import type { ShownMark, ShownReading } from '../../desk/index.ts';
import { Word } from '../shelf/Fields.tsx';
import { useWords } from '../words/context.ts';
import { momentKey, type HeardTakes } from './heardTakes.ts';

interface Props {
  readonly heard: HeardTakes;
}

interface ChosenProps extends Props {
  /** Null: none was touched yet. */
  readonly mark: ShownMark | null;
  readonly onLeave: () => void;
}

export const Chosen = ({ heard, mark, onLeave }: ChosenProps) => {
  const { reading } = useWords();
  if (mark === null) return <p class="aside">{reading.touch}</p>;
  const { plays } = heard.now;
  const out = new Set(heard.out);
  const notes = mark.other ? [] : mark.moments.flatMap(({ note }) => note ?? []);
  const isOut = notes.length > 0 && notes.every((note) => out.has(note));
  return (
    <section class="chosen-mark" aria-label={reading.chosen}>
      <p role="status">
        {mark.title}. <span class="desc">{mark.desc}</span>
      </p>
      {mark.moments.map((moment) => {
        const what = `${mark.moments.length > 1 ? reading.time(moment.rep) : ''}${mark.title}`;
        return (
          <p key={moment.rep} class="take-line">
            {mark.moments.length > 1 && <span>{reading.time(moment.rep)}</span>}
            {[false, true].map((slower) => {
              const now = plays === momentKey(mark.id, moment, slower);
              return (
                <Word
                  key={String(slower)}
                  words={now ? reading.stop : slower ? reading.slower : reading.listen}
                  label={now ? reading.stop : slower ? reading.slowerTo(what) : reading.listenTo(what)}
                  onPress={() => void heard.listen(mark, moment, slower)}
                />
              );
            })}
          </p>
        );
      })}
      <p class="take-line">
        {notes.length > 0 && (
          <Word
            words={isOut ? reading.notSoAfterAll : reading.notSo}
            label={`${isOut ? reading.notSoAfterAll : reading.notSo}: ${mark.title}`}
            onPress={() =>
              heard.takeOut(
                notes.map((note) => `note/${note}`),
                !isOut,
              )
            }
          />
        )}
        <Word words={reading.putAway} onPress={onLeave} />
      </p>
    </section>
  );
};

interface FoundProps extends Props {
  readonly shown: ShownReading;
  readonly told: number;
  readonly onTold: (count: number) => void;
  readonly onMark: (mark: ShownMark) => void;
}

export const Found = ({ heard, shown, told, onTold, onMark }: FoundProps) => {
  const { reading } = useWords();
  const list = shown.findings.slice(0, told);
  const rest = shown.findings.length - list.length;
  const out = heard.out;
  return (
    <section class="found" aria-label={reading.found}>
      <h2>{reading.found}</h2>
      {shown.said.map((line) => (
        <p key={line} class="aside">
          {line}
        </p>
      ))}
      <ol>
        {list.map(({ mark, number, texts }) => {
          const own = shown.marks.find(({ id }) => id === mark);
          return (
            <li key={mark} value={Number(number)}>
              {texts.map((line) => (
                <p key={line}>{line}</p>
              ))}
              {own !== undefined && own.moments.length > 0 && (
                <Word
                  words={reading.listen}
                  label={reading.listenTo(own.title)}
                  onPress={() => onMark(own)}
                />
              )}
            </li>
          );
        })}
      </ol>
      {rest > 0 && <Word words={reading.more(rest)} onPress={() => onTold(shown.findings.length)} />}
      {told > 1 && rest === 0 && <Word words={reading.fewer} onPress={() => onTold(1)} />}
      {shown.closing !== '' && <p class="aside">{shown.closing}</p>}
      {out.length > 0 && (
        <p>
          {reading.outCount(out.length)}{' '}
          <Word
            words={reading.allBack}
            onPress={() =>
              heard.takeOut(
                out.map((note) => `note/${note}`),
                false,
              )
            }
          />
        </p>
      )}
    </section>
  );
};
