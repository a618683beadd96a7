import { zipSync, strToU8 } from 'fflate';
import { describe, expect, test } from 'vitest';
import { readScore } from '../../src/score/read/recognise.ts';
import { attributes, fullBar, measure, onePart } from './musicxml-fragments.ts';

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
    [
      'MEI',
      bytes('<?xml version="1.0"?><?xml-model href="x"?><mei xmlns="http://www.music-encoding.org/ns/mei"/>'),
      /MEI/,
    ],
    ['kern', bytes('!!!COM: Bach\n**kern\t**kern\n4c\t4d\n'), /kern/],
    ['ABC', bytes('X:1\nT:Tune\nK:G\nGABc|\n'), /ABC/],
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
