/** Figures of a reading, and the table of all its numbers. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { ShownReading, ShownRow } from '../../desk/index.ts';
import { pictureOf } from '../picture.ts';
import { Word } from '../shelf/Fields.tsx';
import { useWords } from '../words/context.ts';
import { calledOf } from './called.ts';
import type { HeardTakes } from './heardTakes.ts';
import type { Words } from '../words/index.ts';

type ChartName = ShownReading['charts'][number]['name'];

const Chart = ({ svg }: { readonly svg: string }) => {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const picture = pictureOf(svg);
    place.current?.replaceChildren(...(picture === null ? [] : [picture]));
  }, [svg]);
  return <div ref={place} class="chart" tabIndex={0} role="group" />;
};

const kinds = ['SVG', 'PNG'] as const;

/** A chart as a file. */
const Along = ({ heard, name }: { readonly heard: HeardTakes; readonly name: ChartName }) => {
  const { reading } = useWords();
  const { take } = heard;
  if (take === null) return null;
  return (
    <p class="take-line">
      {kinds.map((kind) => {
        const file = `${name}.${kind.toLowerCase()}`;
        const words = heard.now.making === file ? reading.making : reading.figureAs(kind);
        return (
          <Word
            key={kind}
            words={words}
            label={`${reading.charts[name]}: ${words}`}
            onPress={() => void heard.along(file, calledOf(take))}
          />
        );
      })}
    </p>
  );
};

interface FiguresProps {
  readonly heard: HeardTakes;
  readonly shown: ShownReading;
}

export const Figures = ({ heard, shown: { charts } }: FiguresProps) => {
  const { reading } = useWords();
  const [open, setOpen] = useState(false);
  return (
    <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{reading.figures}</summary>
      {open &&
        charts.map(({ name, svg }) => (
          <div key={name}>
            <Chart svg={svg} />
            <Along heard={heard} name={name} />
          </div>
        ))}
    </details>
  );
};

type RowValue = string | number | null | undefined;

/** Three digits that say something, with the language's own sign between. */
const number = (value: RowValue, point: string, unit = ''): string => {
  if (typeof value !== 'number') return value ?? '';
  // Where a recording lies is known to a thousandth of a second.
  const digits =
    unit === 's' ? 3 : Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : Math.abs(value) >= 1 ? 2 : 3;
  return value
    .toFixed(digits)
    .replace(/^-(?=0(\.0*)?$)/, '')
    .replace('-', '\u2212')
    .replace('.', point);
};

const text = (value: RowValue): string => String(value ?? '');

interface RowProps {
  readonly row: ShownRow;
  readonly name: (part: string) => string;
  readonly words: Words;
  readonly compares: boolean;
}

const Row = ({ row, name, words: { reading }, compares }: RowProps) => {
  const unit = reading.unitOf(text(row.unit));
  const digits = (value: RowValue): string => number(value, reading.point, text(row.unit));
  const who = [row.part, row.other].flatMap((part) =>
    part === null || part === undefined ? [] : [name(text(part))],
  );
  return (
    <tr>
      <th scope="row">{reading.whatOf(text(row.what))}</th>
      <td>{reading.figureOf(text(row.figure))}</td>
      <td>{who.join(', ')}</td>
      <td>{reading.place(text(row.bar), text(row.beat), text(row.rep))}</td>
      <td class="number">
        {digits(row.value)} {unit}
      </td>
      {compares && <td class="number">{digits(row.beside)}</td>}
      <td class="number">
        {typeof row.low === 'number' && typeof row.high === 'number'
          ? `${digits(row.low)} ${reading.to} ${digits(row.high)}`
          : ''}
      </td>
      <td class="number">{text(row.n)}</td>
    </tr>
  );
};

interface TableProps {
  readonly shown: ShownReading;
  readonly name: (part: string) => string;
}

export const Table = ({ shown: { rows }, name }: TableProps) => {
  const words = useWords();
  const { reading } = words;
  const [open, setOpen] = useState(false);
  const [notes, setNotes] = useState(false);
  const list = notes ? rows : rows.filter(({ what }) => !text(what).startsWith('note-'));
  const compares = rows.some(({ beside }) => beside !== undefined);
  const { columns } = reading;
  return (
    <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{reading.table}</summary>
      {open && (
        <>
          <Word words={notes ? reading.withoutNotes : reading.withNotes} onPress={() => setNotes(!notes)} />
          <div class="numbers" tabIndex={0} role="region" aria-label={reading.tableOf}>
            <table>
              <thead>
                <tr>
                  {[
                    columns.what,
                    columns.figure,
                    columns.who,
                    columns.where,
                    columns.value,
                    ...(compares ? [columns.beside] : []),
                    columns.interval,
                    columns.n,
                  ].map((column) => (
                    <th key={column} scope="col">
                      {column}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {list.map((row, i) => (
                  <Row key={i} row={row} name={name} words={words} compares={compares} />
                ))}
              </tbody>
            </table>
          </div>
        </>
      )}
    </details>
  );
};
