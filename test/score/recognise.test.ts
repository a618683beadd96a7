import { zipSync, strToU8 } from 'fflate';
import { describe, expect, test } from 'vitest';
import { readScore } from '../../src/score/read/recognise.ts';
import { attributes, fullBar, measure, onePart } from './musicxml-fragments.ts';
import { oneBar, type TextFormat } from './one-bar.ts';

const document = (encoding: string, name = 'Fl\u00f6te'): string =>
  onePart(measure('1', attributes(1) + fullBar()), name).replace(
    'encoding="UTF-8"',
    `encoding="${encoding}"`,
  );

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const latin1 = (text: string): Uint8Array => Uint8Array.from(text, (sign) => sign.charCodeAt(0));
const utf16 = (text: string, bigEndian: boolean, mark: boolean): Uint8Array => {
  const units = Array.from((mark ? '\ufeff' : '') + text, (sign) => sign.charCodeAt(0));
  return Uint8Array.from(
    units.flatMap((unit) => (bigEndian ? [unit >> 8, unit & 255] : [unit & 255, unit >> 8])),
  );
};

const partName = (input: Uint8Array): string => {
  const result = readScore(input);
  return result.ok ? (result.value.parts[0]?.name ?? '') : result.error.message;
};
const codes = (input: Uint8Array): string[] => {
  const result = readScore(input);
  return result.ok ? result.problems.map(({ code }) => code) : [result.error.code];
};

describe('encodings (XML 1.0, appendix F)', () => {
  test.each([
    ['UTF-8', bytes(document('UTF-8'))],
    ['UTF-8 with a byte order mark', bytes(`\ufeff${document('UTF-8')}`)],
    ['UTF-16 little-endian with a mark', utf16(document('UTF-16'), false, true)],
    ['UTF-16 big-endian with a mark', utf16(document('UTF-16'), true, true)],
    ['UTF-16 little-endian by its declaration', utf16(document('UTF-16'), false, false)],
    ['UTF-16 big-endian by its declaration', utf16(document('UTF-16'), true, false)],
    ['ISO-8859-1', latin1(document('ISO-8859-1'))],
    ['windows-1252', latin1(document('windows-1252'))],
  ])('%s', (_, input) => {
    expect(partName(input)).toBe('Fl\u00f6te');
    expect(codes(input)).toEqual([]);
  });

  test('windows-1252 beyond ISO-8859-1: 0x80 is the euro sign, 0x9f a capital y with diaeresis', () => {
    // Encoding Standard, index-windows-1252
    expect(partName(latin1(document('windows-1252', 'a\u0080\u009fb')))).toBe('a\u20ac\u0178b');
  });

  test('bytes that are not what the file says: read all the same, and told', () => {
    expect(partName(latin1(document('UTF-8')))).toBe('Fl\u00f6te');
    expect(codes(latin1(document('UTF-8')))).toEqual(['encoding-wrong']);
    expect(partName(bytes(document('UTF-16')))).toBe('Fl\u00f6te');
    expect(codes(bytes(document('UTF-16')))).toEqual(['encoding-wrong']);
  });

  test('an encoding that nobody knows is refused by name', () => {
    const result = readScore(bytes(document('EBCDIC-KLINGON')));
    expect(result.ok ? '' : result.error.message).toContain('ebcdic-klingon');
  });

  test.each([
    ['carriage returns', '\r'],
    ['both', '\r\n'],
  ])('line ends: %s', (_, end) => {
    expect(partName(bytes(document('UTF-8').replace(/\n/g, end)))).toBe('Fl\u00f6te');
  });
});

describe('compressed files (MusicXML 4.0, compressed files)', () => {
  const container = (path: string, more = ''): string =>
    `<?xml version="1.0"?><container><rootfiles>${more}<rootfile full-path="${path}" media-type="application/vnd.recordare.musicxml+xml"/></rootfiles></container>`;
  const zip = (files: Record<string, string>, level: 0 | 9 = 9): Uint8Array =>
    zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])), {
      level,
    });

  test('the first root file of MusicXML type is read, whatever else is inside', () => {
    const pdf = '<rootfile full-path="a.pdf" media-type="application/pdf"/>';
    for (const level of [0, 9] as const) {
      const input = zip(
        {
          'a.pdf': 'no',
          'other.xml': '<x/>',
          'music/score.xml': document('UTF-8'),
          'META-INF/container.xml': container('music/score.xml', pdf),
        },
        level,
      );
      expect(partName(input)).toBe('Fl\u00f6te');
      expect(codes(input)).toEqual([]);
    }
  });

  test('without a container, or with one that leads nowhere, the only XML file is read and it is told', () => {
    expect(codes(zip({ 'score.xml': document('UTF-8') }))).toEqual(['container-missing']);
    expect(
      codes(zip({ 'score.xml': document('UTF-8'), 'META-INF/container.xml': container('gone.xml') })),
    ).toEqual(['container-missing']);
    expect(codes(zip({ 'a.xml': document('UTF-8'), 'b.xml': document('UTF-8') }))).toEqual([
      'container-unclear',
    ]);
    expect(codes(zip({ 'a.txt': 'hello' }))).toEqual(['not-a-score']);
  });
});

describe('what it is instead', () => {
  const cases: readonly (readonly [string, Uint8Array, RegExp])[] = [
    ['a PDF', bytes('%PDF-1.7\n'), /PDF/],
    ['a PNG', latin1('\x89PNG\r\n\x1a\n'), /picture \(PNG\)/],
    ['a JPEG', latin1('\xff\xd8\xff\xe0'), /picture \(JPEG\)/],
    ['a WAV', latin1('RIFF\x24\0\0\0WAVEfmt '), /sound file \(WAV\)/],
    ['an MP3', latin1('ID3\x03'), /MP3/],
    ['a web page', bytes('<!DOCTYPE html><html><body><p>404<br></body></html>'), /web page/],
    ['a web page without a document type', bytes('<!-- x --><html lang="en"><meta></html>'), /web page/],
    ['JSON', bytes('{"a": 1}'), /JSON/],
    ['other XML', bytes('<recipe><egg/></recipe>'), /"recipe"/],
    ['an opus', bytes('<opus version="4.0"/>'), /opus/],
    ['prose', bytes('Dear Anna, the rehearsal is on Friday.'), /plain text/],
    ['noise', Uint8Array.from({ length: 300 }, (_, index) => (index * 73) % 251), /no known kind/],
  ];
  test.each(cases)('%s', (_, input, words) => {
    const result = readScore(input);
    expect(result.ok).toBe(false);
    if (!result.ok) {
      expect(result.error.code).toBe('not-a-score');
      expect(result.error.message).toMatch(words);
    }
  });

  test.each([
    ['nothing', new Uint8Array(0)],
    ['white space', bytes(' \n\t ')],
  ])('%s is told to be empty', (_, input) => {
    const result = readScore(input);
    expect(result.ok ? '' : result.error.code).toBe('file-empty');
  });

  test('a MIDI file goes to its own reader', () => {
    // Standard MIDI Files 1.0: format 0, one track of one quarter C4 at 480 ticks
    const file = latin1(
      'MThd\0\0\0\x06\0\0\0\x01\x01\xe0MTrk\0\0\0\x0d\0\x90\x3c\x40\x83\x60\x80\x3c\x40\0\xff\x2f\0',
    );
    const result = readScore(file);
    expect(result.ok ? result.value.source : result.error.message).toBe('midi');
    expect(result.ok && result.value.parts[0]?.notes.map(({ midi }) => midi)).toEqual([60]);
  });

  test('a bar plan is read by its content', () => {
    const result = readScore(bytes('pickup 1/4; 1-16 4/4 twice; 17-24 3/4; tempo 1/4=92'));
    expect(result.ok && result.value.source).toBe('barplan');
  });
});

/** What was read: the format, the title, and the keys of the notes. */
const readAs = (input: Uint8Array): string => {
  const result = readScore(input);
  if (!result.ok) return `${result.error.code}: ${result.error.message}`;
  const { source, title, parts } = result.value;
  return `${source} ${title} ${parts.flatMap(({ notes }) => notes.map(({ midi }) => midi)).join(' ')}`;
};
const textFormats = ['musicxml', 'mei', 'kern', 'abc'] as const;
const title = 'Fl\u00f6te';
const whole = (format: TextFormat): string => `${format} ${title} 60`;
/** A format of plain text says nothing of its encoding; XML says it in its declaration. */
const declaring = (format: TextFormat, encoding: string): string =>
  (format === 'musicxml' || format === 'mei' ? `<?xml version="1.0" encoding="${encoding}"?>\n` : '') +
  oneBar(format, title);

describe.each(textFormats)('a bar in %s is known by its content', (format) => {
  test.each([
    ['UTF-8', bytes(declaring(format, 'UTF-8'))],
    ['UTF-8 with a byte order mark', bytes(`\ufeff${declaring(format, 'UTF-8')}`)],
    ['UTF-16 little-endian with a mark', utf16(declaring(format, 'UTF-16'), false, true)],
    ['UTF-16 big-endian with a mark', utf16(declaring(format, 'UTF-16'), true, true)],
    ['UTF-16 little-endian without a mark', utf16(declaring(format, 'UTF-16'), false, false)],
    ['UTF-16 big-endian without a mark', utf16(declaring(format, 'UTF-16'), true, false)],
    ['lines that end in CR and LF', bytes(declaring(format, 'UTF-8').replaceAll('\n', '\r\n'))],
    ['lines that end in CR', bytes(declaring(format, 'UTF-8').replaceAll('\n', '\r'))],
    [
      'lines that end now so, now so',
      bytes(
        declaring(format, 'UTF-8')
          .split('\n')
          .map((line, index) => line + (['\r\n', '\r', '\n'][index % 3] ?? ''))
          .join(''),
      ),
    ],
    ['blank lines in front', bytes(`\n\n${oneBar(format, title)}`)],
  ])('%s', (_, input) => {
    expect(readAs(input)).toBe(whole(format));
    expect(codes(input)).not.toContain('encoding-wrong');
  });

  test('in Western European letters that are not declared: read, and told', () => {
    const input = latin1(oneBar(format, title));
    expect(readAs(input)).toBe(whole(format));
    expect(codes(input)).toContain('encoding-wrong');
  });
});

describe('NUL bytes', () => {
  // XML 1.0, 2.2: NUL is no character, so such a text is not well-formed and must not be read.
  test.each(['musicxml', 'mei'] as const)('in %s: refused with the line', (format) => {
    const result = readScore(bytes(oneBar(format, 'Fl\0te')));
    expect(result.ok ? '' : result.error.code).toBe('xml-broken');
    expect(result.ok ? 0 : result.error.line).toBeGreaterThan(0);
  });
  test.each(['kern', 'abc'] as const)('in %s: passed over, and told with the line', (format) => {
    const result = readScore(bytes(oneBar(format, `Fl\0\u00f6\u0001te`)));
    expect(result.ok && result.value.title).toBe(title);
    const told = result.ok ? result.problems.filter(({ code }) => code === 'not-text') : [];
    expect(told).toEqual([
      {
        code: 'not-text',
        severity: 'repair',
        message: '2 characters that are no text (such as NUL bytes) stand in the file; they are passed over.',
        line: format === 'kern' ? 1 : 2,
      },
    ]);
  });
});

describe('the character set that an ABC file names (ABC 2.1, 11.4)', () => {
  const text = (field: string): string => `${field}\n${oneBar('abc', title)}`;
  test.each(['%%abc-charset iso-8859-1', 'I:abc-charset ISO-8859-1'])('%s', (field) => {
    expect(readAs(latin1(text(field)))).toBe(whole('abc'));
    expect(codes(latin1(text(field)))).not.toContain('encoding-wrong');
  });
});

describe('what is not music', () => {
  test.each([
    ['prose with a colon', 'X: the unknown.\nT: time.\nK: a constant of the spring, as in Hooke.\n'],
    ['coordinates', 'X: 12.5\nY: 7\nZ: 3\nK: 41\n'],
    ['a letter', 'Dear Anna,\n\nK: was not here. We play on Friday.\nX: 1 kiss\n'],
    ['CSV', 'X:1,Y:2,K:3\n1,2,3\n4,5,6\n'],
    ['a table', 'bar\tbeat\tnote\n1\t1\tC4\n1\t2\tD4\n'],
    ['an emphasis in two stars', '**kernel** is what they call it.\n**kern** is Danish for it.\n'],
    ['source code in C', '/** kern: the core */\nint main(void) { return 0; } // **kern\n'],
    ['source code in Python', 'def kern(**kern):\n    return kern["X:1"]\n'],
    ['settings', '[abc]\nX=1\nK=C\n'],
    ['JSON', '{"X": "1", "K": "C", "spine": "**kern"}'],
    ['a list', '- X:1\n- K:C\n- **kern\n'],
    ['a web page', '<!DOCTYPE html>\n<html><body><pre>\nX:1\nT:Tune\nK:G\nGABc|\n</pre></body></html>'],
    ['another spine than notes', '**harm\t**text\nI\tla\n*-\t*-\n'],
  ])('%s is refused', (_, text) => {
    for (const end of ['\n', '\r\n', '\r'])
      expect(codes(bytes(text.replaceAll('\n', end)))).toEqual(['not-a-score']);
  });

  test('a bar plan is no ABC, and ABC is no bar plan', () => {
    const plan = '% Sonata\n1-16 4/4 twice\nmark K: at 5\n17-24 3/4\ntempo 1/4=92\n';
    expect(readAs(bytes('1-16 4/4 twice; mark X at 1; mark K at 5; 17-24 3/4; tempo 1/4=92'))).toMatch(
      /^barplan/,
    );
    expect(readAs(bytes(plan))).not.toMatch(/^abc/);
    // A title that is a plan, and a comment that is one.
    expect(readAs(bytes(oneBar('abc', '1-16 4/4; 17-24 3/4')))).toMatch(/^abc/);
    expect(readAs(bytes(`% 1-16 4/4\n${oneBar('abc', title)}`))).toBe(whole('abc'));
    expect(readAs(bytes(`!! 1-16 4/4\n${oneBar('kern', title)}`))).toBe(whole('kern'));
  });
});
