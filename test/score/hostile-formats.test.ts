/**
 * Hostile input, the same for every format of text: the answer is always a score that holds together or an error in plain
 * words, and it comes. The rule is our own; no outside source. The kinds of attack: common knowledge, from memory.
 */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { playingOrder } from '../../src/score/playing.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { seeded } from '../../src/units/index.ts';
import { checkScore } from './musicxml-fuzz.ts';
import { oneBar, type TextFormat } from './one-bar.ts';

const formats = ['musicxml', 'mei', 'kern', 'abc'] as const;
const ends = { musicxml: 'musicxml', mei: 'mei', kern: 'krn', abc: 'abc' } as const;

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** The demo in a format; one bar of it where nobody has written it in that format yet. */
const demoIn = (format: TextFormat): string => {
  const file =
    format === 'musicxml'
      ? path.resolve('demo', 'lanterns-on-the-towpath.musicxml')
      : path.resolve('test', 'score', 'formats', `lanterns.${ends[format]}`);
  return existsSync(file) ? readFileSync(file, 'utf8') : oneBar(format, 'A bar');
};

const soak = process.env['LEVARE_SOAK'] === '1';

/** Milliseconds of the processor: far more than any of the inputs takes, so that only a hang or a blow-up is caught, on a busy machine too. */
const patience = soak ? 600_000 : 60_000;

/** Milliseconds of the processor that this process has used. */
const used = (): number => process.cpuUsage().user / 1000;

const named = /^[a-z0-9]+(-[a-z0-9]+)*$/;

/** Plain words: a sentence, not the inside of the program. */
const sentence = /^["%A-Z0-9].*[.?!:)"]$/s;
const inside = /undefined(?! entity)|\bNaN\b|Infinity|\[object|at \w+ \(|RangeError|TypeError|\bnull\b/;

/** Reads and checks; gives the code of the error, or "read". */
const tried = (input: Uint8Array | string): string => {
  const before = used();
  const result = readScore(typeof input === 'string' ? bytes(input) : input);
  expect(used() - before, 'no hang').toBeLessThan(patience);
  const said = result.ok ? result.problems : [result.error];
  for (const { code, message } of said) {
    // Looked at closely only where something is wrong: there are very many.
    if (named.test(code) && sentence.test(message) && !inside.test(message) && message.length < 1000)
      continue;
    expect(code).toMatch(named);
    expect(message, code).toMatch(sentence);
    expect(message, code).not.toMatch(inside);
    expect(message.length, code).toBeLessThan(1000);
  }
  if (!result.ok) {
    expect(result.error.severity).toBe('error');
    expect(result.error.code).not.toBe('defect');
    return result.error.code;
  }
  expect(result.problems.length).toBeLessThan(2000);
  // Note by note where that is quick.
  const notes = result.value.parts.reduce((sum, { written }) => sum + written.length, 0);
  if (notes < 5000) checkScore(result.value);
  playingOrder(result.value);
  return 'read';
};

/** Only the beginning of a file: all that has to stand before music can. */
const headers: Readonly<Record<TextFormat, string>> = {
  musicxml:
    '<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list></score-partwise>',
  mei: '<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><meiHead><fileDesc><titleStmt><title/></titleStmt><pubStmt/></fileDesc></meiHead></mei>',
  kern: '!!!OTL: Nothing\n**kern\t**kern\n*clefF4\t*clefG2\n*-\t*-\n',
  abc: 'X:1\nT:Nothing\nM:4/4\nL:1/8\nK:G\n',
};

/** What stands in the place of the music's one note, with numbers that nobody means. */
const withNumber: Readonly<Record<TextFormat, (number: string) => readonly string[]>> = {
  musicxml: (n) => {
    const bar = oneBar('musicxml', 'A');
    return [
      bar.replace('<duration>4<', `<duration>${n}<`),
      bar.replace('<divisions>1<', `<divisions>${n}<`),
      bar.replace('<octave>4<', `<octave>${n}<`),
      bar.replace('<beats>4<', `<beats>${n}<`),
      bar.replace('<beat-type>4<', `<beat-type>${n}<`),
      bar.replace('<type>whole</type>', `<staff>${n}</staff>`),
    ];
  },
  mei: (n) => {
    const bar = oneBar('mei', 'A');
    return [
      bar.replace('dur="1"', `dur="${n}"`),
      bar.replace('dur="1"', `dur="1" dots="${n}"`),
      bar.replace('oct="4"', `oct="${n}"`),
      bar.replace('meter.count="4"', `meter.count="${n}"`),
      bar.replace('meter.unit="4"', `meter.unit="${n}"`),
      bar
        .replace('<note', `<tuplet num="${n}" numbase="${n}"><note`)
        .replace('</layer>', '</tuplet></layer>'),
      bar.replace('<note pname="c" oct="4" dur="1"/>', `<multiRest num="${n}"/>`),
      bar.replace('<measure n="1">', `<measure n="${n}">`),
    ];
  },
  kern: (n) => {
    const bar = oneBar('kern', 'A');
    return [
      bar.replace('1c', `${n}c`),
      bar.replace('1c', `1${'.'.repeat(Math.min(n.length * 10, 400))}c`),
      bar.replace('1c', `${n}%${n}c`),
      bar.replace('*M4/4', `*M${n}/${n}`),
      bar.replace('*M4/4', `*MM${n}`),
      bar.replace('1c', `1${'c'.repeat(200)}`),
      bar.replace('=1', `=${n}`),
    ];
  },
  abc: (n) => {
    const bar = oneBar('abc', 'A');
    return [
      bar.replace('C4', `C${n}`),
      bar.replace('C4', `C/${n}`),
      bar.replace('C4', `C${'/'.repeat(300)}`),
      bar.replace('C4', `(${n}CCC`),
      bar.replace('C4', `(3:${n}:${n}CCC`),
      bar.replace('C4', `Z${n}`),
      bar.replace('C4', `C${"'".repeat(300)}${','.repeat(500)}`),
      bar.replace('M:4/4', `M:${n}/${n}`),
      bar.replace('L:1/4', `L:1/${n}`),
      bar.replace('K:C', `Q:${n}/${n}=${n}\nK:C`),
      bar.replace('X:1', `X:${n}`),
    ];
  },
};

const numbers = [
  '0',
  '-1',
  '99999999999999999999',
  '9'.repeat(400),
  '1e308',
  '0.0000001',
  '4294967296',
  '3/0',
];

/** The same thing inside itself, many times over. */
const nested: Readonly<Record<TextFormat, (depth: number) => string>> = {
  musicxml: (n) =>
    oneBar('musicxml', 'A').replace('<note>', `${'<note>'.repeat(n)}${'</note>'.repeat(n)}<note>`),
  mei: (n) =>
    oneBar('mei', 'A')
      .replace('<layer n="1">', `<layer n="1">${'<tuplet num="3" numbase="2"><beam>'.repeat(n)}`)
      .replace('</layer>', `${'</beam></tuplet>'.repeat(n)}</layer>`),
  kern: (n) => oneBar('kern', 'A').replace('=1\n', `=1\n${'*^\n'.repeat(Math.min(n, 3000))}`),
  abc: (n) =>
    oneBar('abc', 'A').replace('C4', `${'('.repeat(n)}${'{'.repeat(n)}${'['.repeat(n)}C4${')'.repeat(n)}`),
};

/** Bytes of music in one line: 20 MB, which takes minutes where each is a note, is for the soak. */
const lineLength = soak ? 20_000_000 : 500_000;

/** One line of about so many bytes of music. */
const oneLine: Readonly<Record<TextFormat, (size: number) => string>> = {
  musicxml: (size) => {
    const [, one = ''] = /(<note>.*<\/note>)/.exec(oneBar('musicxml', 'A')) ?? [];
    return oneBar('musicxml', 'A')
      .replaceAll('\n', '')
      .replace(one, one.repeat(size / one.length));
  },
  mei: (size) => {
    const one = '<note pname="c" oct="4" dur="4"/>';
    return oneBar('mei', 'A')
      .replaceAll('\n', '')
      .replace('<note pname="c" oct="4" dur="1"/>', one.repeat(size / one.length));
  },
  kern: (size) => oneBar('kern', 'A').replace('1c', '1c '.repeat(size / 3).trimEnd()),
  abc: (size) => oneBar('abc', 'A').replace('C4|', 'C4|'.repeat(size / 3)),
};

describe.each(formats)('%s', { timeout: 20 * patience }, (format) => {
  const demo = demoIn(format);

  test('the demo itself is read', () => expect(tried(demo)).toBe('read'));

  test('nothing, and a header without music', () => {
    expect(tried('')).toBe('file-empty');
    expect(tried(headers[format])).toBe('no-bars');
  });

  test('cut off anywhere', () => {
    const whole = bytes(demo);
    // Every 37th byte; of long files fewer, so that about 500 are tried, or 100.
    const step = 37 * Math.max(1, Math.round(whole.length / 37 / (soak ? 500 : 100)));
    const codes = new Set<string>();
    for (let length = 1; length < whole.length; length += step) codes.add(tried(whole.subarray(0, length)));
    // XML that is cut off is no XML; lines of text are read as far as they go.
    const isXml = format === 'musicxml' || format === 'mei';
    expect(codes.has('read')).toBe(!isXml);
    expect(codes.has('xml-broken')).toBe(isXml);
  });

  test('NUL bytes in the middle', () => {
    for (const count of [1, 2, 40]) {
      const whole = bytes(demo);
      for (let n = 0; n < count; n += 1) whole[Math.floor((whole.length * (n + 1)) / (count + 1))] = 0;
      expect(tried(whole)).toBe(format === 'musicxml' || format === 'mei' ? 'xml-broken' : 'read');
    }
  });

  test('bytes of another encoding, or of none', () => {
    const random = seeded(37);
    const whole = bytes(demo).slice(0, 6000);
    for (let round = 0; round < (soak ? 60 : 20); round += 1) {
      const broken = whole.slice();
      for (let n = 0; n < 1 + round; n += 1)
        broken[Math.floor(random() * broken.length)] = 128 + Math.floor(random() * 128);
      tried(broken);
    }
    const marks = [
      [0xef, 0xbb, 0xbf],
      [0xff, 0xfe],
      [0xfe, 0xff],
      [0xff, 0xfe, 0, 0],
      [0, 0, 0xfe, 0xff],
    ];
    for (const mark of marks) tried(Uint8Array.from([...mark, ...whole]));
    for (const mark of marks) tried(Uint8Array.from([...mark, ...whole.subarray(1)]));
    const every = Uint8Array.from({ length: 1024 }, (_, index) => index & 255);
    for (const at of [0, 40, 400, whole.length]) {
      const mixed = [...whole.subarray(0, at), ...every, ...whole.subarray(at)];
      tried(Uint8Array.from(mixed));
    }
  });

  test.each([100, 10_000, 200_000])('nested %i deep', (depth) => {
    tried(nested[format](depth));
  });

  test.each(numbers)('the number %.20s where a small one should stand', (number) => {
    for (const text of withNumber[format](number)) tried(text);
  });

  test(`music of ${lineLength / 1_000_000} MB in one line`, () => {
    tried(oneLine[format](lineLength));
  });

  test('a line of 20 MB of one letter, or of blanks, or of bar lines', () => {
    for (const sign of ['a', ' ', '\t', '|', '(', '[', '"', '!', '*', '=', '.'])
      tried(demo.replace('\n', `\n${sign.repeat(2_000_000)}\n`));
    tried(demo.replace('\n', `\n${'c'.repeat(20_000_000)}\n`));
  });

  test('a million lines without anything', () => {
    tried(demo + '\n'.repeat(1_000_000));
    tried(demo.replace('\n', '\n'.repeat(1_000_000)));
  });
});

test('a file of every byte, and of one byte only', () => {
  expect(tried(Uint8Array.from({ length: 256 }, (_, index) => index))).toBe('not-a-score');
  for (let byte = 0; byte < 256; byte += 1) tried(Uint8Array.from({ length: 3000 }, () => byte));
});

test('noise: files of random bytes and of random signs', () => {
  const random = seeded(2024);
  const signs = 'XKTMLV:|[]{}()<>abcdefgABCDEFGzZ0123456789/=^_*!%\t \n\r"\'.,-+~#&;\\';
  for (let round = 0; round < (soak ? 500 : 120); round += 1) {
    tried(Uint8Array.from({ length: 1 + Math.floor(random() * 400) }, () => Math.floor(random() * 256)));
    const text = Array.from({ length: 400 }, () => signs[Math.floor(random() * signs.length)] ?? '').join('');
    const heads = [
      '',
      'X:1\nK:C\n',
      '**kern\n',
      '**kern\t**kern\n',
      '<mei>',
      '<score-partwise>',
      '1-8 4/4; ',
    ];
    for (const head of heads) {
      try {
        tried(head + text);
      } catch (error) {
        console.log(`Round ${round}:\n${head}${text}`);
        throw error;
      }
    }
  }
});
