/** Tables as people and programs write them. Format: RFC 4180 for quotes and commas; the rest is common practice, no source. */
import { describe, expect, it } from 'vitest';
import { plainTable } from '../../src/together/csv.ts';
import { readOnsetTable, type OnsetTable } from '../../src/together/table.ts';
import type { Problem } from '../../src/units/index.ts';

const read = (text: string, players: string[] | null = null) => readOnsetTable(text, { players });

const good = (text: string, players: string[] | null = null): OnsetTable & { codes: string[] } => {
  const seen = read(text, players);
  if (!seen.ok) throw new Error(seen.error.message);
  return { ...seen.value, codes: seen.problems.map(({ code }) => code) };
};

const bad = (text: string, players: string[] | null = null): Problem => {
  const seen = read(text, players);
  if (seen.ok) throw new Error('was read');
  return seen.error;
};

const columns = ({ players }: OnsetTable) =>
  Object.fromEntries(players.map(({ name, onsets }) => [name, onsets]));

describe('plain tables', () => {
  it('RFC 4180: quotes, doubled quotes, line ends inside', () => {
    const seen = plainTable('a,"b ""c"", d","e\r\nf"\r\n1,2,3\r\n');
    expect(seen.ok && seen.value.rows.map((row) => row.map(({ text }) => text))).toEqual([
      ['a', 'b "c", d', 'e\r\nf'],
      ['1', '2', '3'],
    ]);
    expect(seen.ok && seen.value.rows[1]?.[0]?.line).toBe(3);
  });

  it('names the line of a quotation mark that stays open', () => {
    const seen = plainTable('a,b\n1,"2\n3,4');
    expect(!seen.ok && [seen.error.code, seen.error.line, seen.error.column]).toEqual([
      'table-quote-open',
      2,
      2,
    ]);
  });
});

describe('tables of onsets', () => {
  const wanted = { Flute: [0.5, 1, 1.5], 'Oboe 2': [0.51, null, 1.52] };
  it.each([
    ['commas', 'Flute,Oboe 2\n0.5,0.51\n1,\n1.5,1.52\n'],
    ['a byte order mark, CRLF and no last line end', '\uFEFFFlute,Oboe 2\r\n0.5,0.51\r\n1,\r\n1.5,1.52'],
    ['CR', 'Flute,Oboe 2\r0.5,0.51\r1,\r1.5,1.52\r'],
    ['semicolons and decimal commas', 'Flute;Oboe 2\n0,5;0,51\n1;\n1,5;1,52\n'],
    ['semicolons and decimal points', 'Flute;Oboe 2\n0.5;0.51\n1;\n1.5;1.52\n'],
    ['tabs', 'Flute\tOboe 2\n0.5\t0.51\n1.0\t\n1.5\t1.52\n'],
    ['quotes', '"Flute","Oboe 2"\n"0.5","0.51"\n"1","NA"\n"1.5","1.52"\n'],
    ['blanks by name', 'Flute,Oboe 2\n0.5,0.51\n1,NaN\n1.5,1.52\n'],
    ['empty lines, exponents and blanks around', 'Flute , Oboe 2\n\n 5e-1 , .51\n+1,-\n1.5,1.52\n\n'],
  ])('with %s', (_, text) => {
    expect(columns(good(text))).toEqual(wanted);
  });

  it('names line and column of what is no number', () => {
    const seen = bad('Flute,Oboe\n0.5,0.51\n1.0,1.O1\n1.5,1.52\n');
    expect([seen.code, seen.line, seen.column]).toEqual(['onset-unreadable', 3, 2]);
    expect(seen.message).toContain('"1.O1" under "Oboe"');
    expect(bad('Flute,Oboe\n0.5,0.51\n1,"1,1"\n1.5,1.52').message).toContain('semicolons');
    for (const text of ['Infinity', '0x10', '1.2.3', '1e999', '--1']) {
      expect(bad(`Flute,Oboe\n0.5,0.51\n1,${text}\n1.5,1.52\n2,2`).code, text).toBe('onset-unreadable');
    }
  });

  it('says what else is wrong', () => {
    expect(bad('').code).toBe('table-empty');
    expect(bad('\n\n').code).toBe('table-empty');
    expect(bad('Flute,Oboe\n').code).toBe('table-empty');
    expect(bad('0.5,0.51\n1,1\n').code).toBe('table-no-header');
    expect(bad('Flute,Flute\n1,2\n2,3').code).toBe('player-twice');
    expect(bad('Flute,Oboe\n1,2\n2,3', ['Flute', 'Horn']).code).toBe('player-unknown');
    expect(bad('Flute,Oboe\n1,2\n2,3,4').code).toBe('table-row-long');
    expect(bad('label,section\na,b\nc,d').code).toBe('players-missing');
    expect(bad('A,B\n1000,1010\n25000,25100\n50000,50200\n').code).toBe('onset-unit-unclear');
  });

  it('takes milliseconds for what they are, and says so', () => {
    const seen = good('A,B\n500,510\n1000,1015\n1500,1490\n');
    expect(columns(seen)).toEqual({ A: [0.5, 1, 1.5], B: [0.51, 1.015, 1.49] });
    expect(seen.codes).toContain('onsets-in-milliseconds');
    // Slow bar lines in seconds stay seconds.
    expect(good('A,B\n0,0.1\n12,12.1\n24,24.1\n').codes).not.toContain('onsets-in-milliseconds');
  });

  it('tells of short lines, of times that go back and of clocks that differ', () => {
    const seen = read('A,B\n1,1\n2\n1.5,3\n4,4\n');
    expect(
      seen.ok && seen.problems.filter(({ code }) => code === 'table-row-short').map(({ line }) => line),
    ).toEqual([3]);
    expect(
      seen.ok &&
        seen.problems
          .filter(({ code }) => code === 'time-backwards')
          .map(({ line, column }) => [line, column]),
    ).toEqual([[4, 1]]);
    expect(good('A,B\n1,7\n2,8\n3,9.1\n4,10').codes).toContain('clocks-apart');
  });

  it('tells players from counts, labels, sections and tempi', () => {
    const rows = Array.from({ length: 64 }, (_, i) => {
      const clave = i % 4 === 0 ? String(i / 4 + 1) : 'N';
      return [
        `s${i}`,
        '7',
        (i % 16) + 1,
        clave,
        90 + Math.sin(i),
        (i * 0.22).toFixed(3),
        (i * 0.22 + 0.01).toFixed(3),
      ];
    });
    const text = ['Title,Which,SD,Pulse?,Speed,Guitar,Tres', ...rows.map((row) => row.join(','))].join('\n');
    const seen = good(text);
    expect(seen.players.map(({ name }) => name)).toEqual(['Guitar', 'Tres']);
    expect(seen.codes).toContain('column-no-times');
    expect(good(text, ['tres', 'Guitar']).players.map(({ name }) => name)).toEqual(['Guitar', 'Tres']);
  });
});

describe('places', () => {
  it('from bar and beat', () => {
    const seen = good('bar,beat,A\n1,1,0\n1,2,0.5\n1,2+1/2,0.75\n2,1,1.5\n4,1,4.5\n4,3,5.5\n');
    expect(seen.unit).toBe('beats');
    expect(seen.places.map(({ beats }) => beats)).toEqual([0, 1, 1.5, 3, 9, 11]);
    expect(seen.places.map(({ onBarLine }) => onBarLine)).toEqual([true, false, false, true, true, false]);
    expect(seen.codes).toContain('bar-length-assumed');
    const error = bad('bar,beat,A\n1,1,0\n1,two,0.5');
    expect([error.code, error.line, error.column]).toEqual(['beat-unreadable', 3, 2]);
  });

  it('from a position that runs on; from even rows; or not at all', () => {
    expect(good('position,A\n0,0\n0.5,0.3\n2,1.1\n').places.map(({ beats }) => beats)).toEqual([0, 0.5, 2]);
    const even = good('A,B\n0,0\n0.5,\n1.02,1\n1.5,1.5\n2,2\n');
    expect([even.unit, even.codes]).toEqual(['rows', ['rows-as-beats']]);
    const uneven = good('A\n0\n0.25\n0.5\n2.5\n3\n3.1\n6\n');
    expect([uneven.unit, uneven.codes]).toEqual([null, ['rows-uneven']]);
    expect(uneven.places.every(({ beats }) => beats === null)).toBe(true);
  });

  it('keeps the click apart from the players', () => {
    const seen = good('click,A\n0,0.01\n0.5,0.52\n1,1.01\n');
    expect(seen.click).toEqual([0, 0.5, 1]);
    expect(seen.players.map(({ name }) => name)).toEqual(['A']);
  });
});
