/** Plain tables: RFC 4180, with comma, semicolon or tab. */
import { fail, ok, type Result } from '../units/index.ts';

export interface Cell {
  /** As it stands, without quotation marks and without blanks around it. */
  readonly text: string;
  /** Line of the file, from 1. */
  readonly line: number;
}

export interface PlainTable {
  readonly separator: ',' | ';' | '\t';
  /** Rows that hold anything; each at least one cell long. */
  readonly rows: readonly (readonly Cell[])[];
}

/** Cells that are taken. */
const mostCells = 20_000_000;

/** The separator that the first line holds most of, outside quotation marks; of as many, tab, then semicolon. */
const separatorOf = (text: string): ',' | ';' | '\t' => {
  const counts = { '\t': 0, ';': 0, ',': 0 };
  let quoted = false;
  for (const sign of text) {
    if (sign === '"') quoted = !quoted;
    else if (!quoted && (sign === '\n' || sign === '\r')) {
      if (counts['\t'] + counts[';'] + counts[','] > 0) break;
    } else if (!quoted && (sign === '\t' || sign === ';' || sign === ',')) counts[sign] += 1;
  }
  if (counts['\t'] > 0 && counts['\t'] >= counts[';'] && counts['\t'] >= counts[',']) return '\t';
  return counts[';'] > 0 && counts[';'] >= counts[','] ? ';' : ',';
};

/**
 * Cells of a table. Line ends LF, CRLF or CR; a byte order mark and lines without any text are passed over. Errors:
 * `table-quote-open`, with line and column, where a quotation mark is never closed; `table-too-large`.
 */
export const plainTable = (text: string): Result<PlainTable> => {
  const source = text.startsWith('\uFEFF') ? text.slice(1) : text;
  const separator = separatorOf(source);
  const rows: Cell[][] = [];
  let row: Cell[] = [];
  let line = 1;
  let cells = 0;
  let at = 0;
  const endRow = (): void => {
    if (row.some((cell) => cell.text !== '')) rows.push(row);
    row = [];
  };
  while (at < source.length) {
    const started = line;
    let value = '';
    let start = at;
    while (source[at] === ' ') at += 1;
    if (source[at] === '"') {
      const column = row.length + 1;
      for (at += 1; ; at += 1) {
        const sign = source[at];
        if (sign === undefined) {
          return fail(
            'table-quote-open',
            `A quotation mark that is opened in line ${started} is never closed.`,
            { line: started, column },
          );
        }
        if (sign === '"') {
          if (source[at + 1] !== '"') break;
          at += 1;
        }
        if (sign === '\n' || (sign === '\r' && source[at + 1] !== '\n')) line += 1;
        value += sign;
      }
      at += 1;
      start = at;
    } else start = at;
    while (at < source.length && source[at] !== separator && source[at] !== '\n' && source[at] !== '\r')
      at += 1;
    row.push({ text: (value + source.slice(start, at)).trim(), line: started });
    cells += 1;
    if (cells > mostCells) {
      return fail('table-too-large', `The table has more than ${mostCells} cells.`, { line });
    }
    const sign = source[at];
    at += 1;
    if (sign === separator) {
      if (at >= source.length) row.push({ text: '', line });
      continue;
    }
    if (sign === '\r' && source[at] === '\n') at += 1;
    line += 1;
    endRow();
  }
  endRow();
  return ok({ separator, rows });
};
