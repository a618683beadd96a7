/** A look at a score as people read it: like the notes in a programme. */
import type { LookBar, LookPart, Overview } from '../desk/index.ts';
import { counted, lasting, problemLines, tempoText, wrapped } from './words.ts';

const sources: Readonly<Record<Overview['source'], string>> = {
  musicxml: 'MusicXML',
  mei: 'MEI',
  kern: 'Humdrum kern',
  abc: 'ABC',
  midi: 'a MIDI file',
  barplan: 'a bar plan',
};

const sounding = (semitones: number): string => {
  if (semitones === 0) return '';
  const size = Math.abs(semitones);
  const where = semitones < 0 ? 'lower' : 'higher';
  if (size % 12 !== 0) return `, sounds ${counted(size, 'semitone')} ${where} than written`;
  return `, sounds ${size === 12 ? 'an octave' : `${size / 12} octaves`} ${where} than written`;
};

const partLine = ({ id, name, notes, graces, transpose }: LookPart, widths: readonly number[]): string => {
  const [idWidth = 0, nameWidth = 0] = widths;
  const ornamental = graces === 0 ? '' : ` and ${counted(graces, 'grace note')}`;
  return `  ${id.padEnd(idWidth)}  ${name.padEnd(nameWidth)}  ${counted(notes, 'note')}${ornamental}${sounding(transpose)}`;
};

/** A bar's name on the command line: its printed number, or "@" and its index where it has none. */
const nameOf = ({ number, index }: Pick<LookBar, 'number' | 'index'>): string =>
  number === '' ? `@${index}` : number;

const range = (first: string, last: string): string => (first === last ? first : `${first}-${last}`);

/** Bars in a row that look alike: same metre and length, and none is a pickup. */
const alike = (bars: readonly LookBar[]): readonly (readonly LookBar[])[] => {
  const rows: LookBar[][] = [];
  for (const bar of bars) {
    const row = rows.at(-1);
    const last = row?.at(-1);
    const same = last?.metre === bar.metre && last.length === bar.length && !last.pickup && !bar.pickup;
    if (row !== undefined && same) row.push(bar);
    else rows.push([bar]);
  }
  return rows;
};

const lengthNote = ({ index, length, pickup }: LookBar, uneven: ReadonlySet<number>): string => {
  if (pickup) return `, upbeat of ${length}`;
  return uneven.has(index) ? `, lasts ${length}` : '';
};

const barLines = ({ look: { bars }, uneven }: Overview): readonly string[] => {
  const odd = new Set(uneven);
  const numbers = bars.map(({ number }) => number);
  const unclear = new Set(numbers).size !== numbers.length || numbers.includes('');
  const rows = alike(bars).map((row) => {
    const [first] = row;
    const last = row.at(-1);
    return first === undefined || last === undefined
      ? null
      : {
          names: range(nameOf(first), nameOf(last)),
          what: `${first.metre}${lengthNote(first, odd)}`,
          places: unclear ? `   (${range(`@${first.index}`, `@${last.index}`)})` : '',
        };
  });
  const width = rows.reduce((most, row) => Math.max(most, row?.names.length ?? 0), 0);
  return rows.flatMap((row) =>
    row === null ? [] : [`  ${row.names.padEnd(width)}  ${row.what}${row.places}`],
  );
};

/** Whether the numbers begin anew, as in a next movement: a range across that would mislead. */
const restarts = (before: LookBar | undefined, next: LookBar | undefined): boolean =>
  Number(next?.number) <= Number(before?.number);

/** Times in a row that are still written out. */
const few = 3;

/** The playing order as ranges: "0-8, 1-7, 9-60"; what is played many times over is named once: "1-16 (12 times)". */
const playedText = ({ look: { bars, played } }: Overview): string => {
  const runs: { first: number; last: number }[] = [];
  for (const index of played) {
    const run = runs.at(-1);
    if (run?.last === index - 1 && !restarts(bars[run.last], bars[index])) run.last = index;
    else runs.push({ first: index, last: index });
  }
  const name = (index: number): string => {
    const bar = bars[index];
    return bar === undefined ? `@${index}` : nameOf(bar);
  };
  const rows: { names: string; times: number }[] = [];
  for (const { first, last } of runs) {
    const names = range(name(first), name(last));
    const row = rows.at(-1);
    if (row?.names === names) row.times += 1;
    else rows.push({ names, times: 1 });
  }
  return rows
    .map(({ names, times }) =>
      times > few ? `${names} (${times} times)` : Array.from({ length: times }, () => names).join(', '),
    )
    .join(', ');
};

const section = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : ['', title, ...lines];

/** "2+1/2" as a number to sort by. */
const beatNumber = (beat: string): number => {
  const [whole = '1', part = '0'] = beat.split('+');
  const [n = '0', d = '1'] = part.split('/');
  return Number(whole) + Number(n) / Number(d);
};

/** Tempi and tempo words; those that stand at one place share a line. */
const tempoLines = ({ look: { tempi }, words }: Overview): readonly string[] => {
  const entries = [
    ...tempi.map((tempo) => ({
      ...tempo,
      what: `${tempoText(tempo)}${tempo.printed ? '' : ' (not printed)'}`,
    })),
    ...words.map(({ text, ...place }) => ({ ...place, what: text })),
  ].sort((a, b) => a.barIndex - b.barIndex || beatNumber(a.beat) - beatNumber(b.beat));
  const rows = new Map<string, string[]>();
  for (const { bar, barIndex, beat, what } of entries) {
    const where = beat === '1' ? '' : `, beat ${beat}`;
    const place = `bar ${nameOf({ number: bar, index: barIndex })}${where}`;
    rows.set(place, [...(rows.get(place) ?? []), what]);
  }
  const width = Math.max(0, ...[...rows.keys()].map((place) => place.length));
  return [...rows].map(([place, whats]) => `  ${place.padEnd(width)}  ${whats.join('  ')}`);
};

/** The whole text, a line each, without control of the terminal. */
export const lookText = (seen: Overview): readonly string[] => {
  const { look, source, duration, marks } = seen;
  const { parts, bars, played } = look;
  const idWidth = parts.reduce((most, { id }) => Math.max(most, id.length), 0);
  const nameWidth = parts.reduce((most, { name }) => Math.max(most, name.length), 0);
  const straight = played.length === bars.length && played.every((index, i) => index === i);
  const markText = marks.map(
    ({ text, bar, barIndex }) => `${text} at ${nameOf({ number: bar, index: barIndex })}`,
  );
  return [
    look.title === '' ? 'Without a title' : look.title,
    `${counted(bars.length, 'bar')}, ${parts.length === 0 ? 'no notes' : counted(parts.length, 'part')}, about ${lasting(duration)}${straight ? '' : ' with repeats'}; read from ${sources[source]}`,
    ...section(
      'Parts',
      parts.map((part) => partLine(part, [idWidth, nameWidth])),
    ),
    ...section('Bars', barLines(seen)),
    ...section('Played', [`  ${straight ? 'straight through' : wrapped(playedText(seen), 2)}`]),
    ...section('Rehearsal marks', markText.length === 0 ? [] : [`  ${wrapped(markText.join(', '), 2)}`]),
    ...section('Tempo', tempoLines(seen)),
    ...section(
      'Good to know',
      problemLines(look.problems).map((line) => `  ${wrapped(line, 4)}`),
    ),
  ];
};
