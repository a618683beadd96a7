/**
 * Scores by hand for tests: a line of bars. Each bar is its metre or length with signs around it, bars are separated
 * by semicolons, signs by blanks. Signs before: `|:` repeat start, `S` segno, `O` coda, `[1,2` ending begins. Length: `4/4` metre, `:1/4`
 * after it for another length. Signs after: `]` ending stops, `)` ending discontinues, `:|` or `:|x3` repeat, `DC`,
 * `DS`, `TC` to coda, `Fine`, `||` double, `|||` final, `aj` repeat also after a jump,
 * `F` fermata over the bar line.
 */
import type { Bar, Ending, Jump, Mark, Score } from '../../src/score/model.ts';
import { metreLength, noMetre, parseMetre } from '../../src/score/metre.ts';
import { F, beats, note, plus } from '../../src/units/index.ts';

const bar = (text: string, index: number, previous: Bar | undefined): Bar => {
  const tokens = text.split(',,');
  const has = (token: string): boolean => tokens.includes(token);
  const size = tokens.find((t) => /^(free|\d+(\+\d+)*\/\d+)(:\d+\/\d+)?$/.test(t)) ?? '4/4';
  const [metreWords = '', lengthWords] = size.split(':');
  const metre = parseMetre(metreWords) ?? noMetre;
  const full = metreLength(metre);
  const length = lengthWords === undefined ? (full ?? note(1)) : beats(F.parse(lengthWords) ?? F.one);
  const opening = tokens.find((t) => t.startsWith('['));
  const before = previous?.ending ?? null;
  const carried = before?.ends === null ? before : null;
  const numbers =
    opening
      ?.slice(1)
      .split(',')
      .filter((n) => n !== '')
      .map(Number) ??
    carried?.numbers ??
    [];
  const ends = has(']') ? 'stop' : has(')') ? 'discontinue' : null;
  const ending: Ending | null =
    opening === undefined && carried === null && ends === null
      ? null
      : { numbers, text: numbers.join(', '), begins: opening !== undefined, ends };
  const jumps: Jump[] = tokens.flatMap((t): Jump[] => {
    const [word = '', name = ''] = t.split('=');
    const named = { S: 'segno', O: 'coda', DS: 'dalSegno', TC: 'toCoda' } as const;
    if (word === 'DC') return [{ kind: 'daCapo' }];
    if (word === 'Fine') return [{ kind: 'fine' }];
    return word === 'S' || word === 'O' || word === 'DS' || word === 'TC'
      ? [{ kind: named[word], name }]
      : [];
  });
  const back = tokens.find((t) => t.startsWith(':|'));
  return {
    index,
    number: String(index + 1),
    start: previous === undefined ? note(0) : plus(previous.start, previous.length),
    length,
    metre,
    pickup: full !== null && F.less(length, full) && index === 0,
    repeatStart: has('|:'),
    repeatEnd: back === undefined ? 0 : Number(back.slice(3) || '2'),
    repeatAfterJump: has('aj'),
    ending,
    jumps,
    barline: has('|||') ? 'final' : has('||') ? 'double' : 'regular',
    fermata: has('F'),
  };
};

/** `bars('|: 4/4 ; 3/4 :|')`: bars by semicolons, signs by blanks. */
export const bars = (text: string): Bar[] => {
  const result: Bar[] = [];
  for (const [index, part] of text.split(';').entries())
    result.push(bar(part.trim().split(/\s+/).join(',,'), index, result.at(-1)));
  return result;
};

/** A score of bars and marks only. */
export const scoreOf = (line: string | readonly Bar[], marks: readonly Mark[] = []): Score => ({
  title: '',
  source: 'barplan',
  bars: typeof line === 'string' ? bars(line) : line,
  parts: [],
  marks,
});
