import { strToU8, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { readMusicXml } from '../../src/score/read/musicxml/index.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import {
  attributes,
  barLengths,
  fullBar,
  measure,
  note,
  onePart,
  read,
  sounding,
  time,
} from './musicxml-fragments.ts';
import { fuzzMusicXml } from './musicxml-fuzz.ts';

const refusal = (input: Uint8Array | string): { code: string; message: string } => {
  const result = typeof input === 'string' ? readMusicXml(input) : readScore(input);
  return result.ok ? { code: 'read', message: '' } : result.error;
};
const plain = onePart(measure('1', attributes(1) + fullBar()));

describe('hostile XML', () => {
  test('entities of its own are refused, outside and inside', () => {
    const doctype = (declaration: string): string =>
      plain.replace(/<!DOCTYPE[^>]*>/, `<!DOCTYPE score-partwise [${declaration}]>`);
    expect(refusal(doctype('<!ENTITY x SYSTEM "file:///etc/passwd">')).code).toBe('xml-entities');
    const laughs = Array.from({ length: 9 }, (_, n) => `<!ENTITY l${n + 1} "${`&l${n};`.repeat(10)}">`).join(
      '',
    );
    expect(refusal(doctype(`<!ENTITY l0 "ha">${laughs}`).replace('Flute', '&l9;')).code).toBe('xml-entities');
    expect(refusal(plain.replace('Flute', '&unknown;')).code).toBe('xml-broken');
    expect(refusal(plain.replace('Flute', '&#x42;&amp;&lt;')).code).toBe('read');
  });

  test('an outside document type is accepted and not fetched', () =>
    expect(refusal(plain).code).toBe('read'));

  test('depth is bounded', () => {
    const deep = '<a>'.repeat(100_000) + '</a>'.repeat(100_000);
    expect(refusal(plain.replace('Flute', deep)).code).toBe('xml-too-deep');
  });

  test('cut off, mis-nested, NUL bytes: an error with its line', () => {
    const broken = refusal(plain.slice(0, -30));
    expect(broken.code).toBe('xml-broken');
    expect(broken.message).toMatch(/line 4/);
    expect(refusal(plain.replace('</note>', '</nota>')).code).toBe('xml-broken');
    expect(refusal(plain.replace('Flute', 'Fl\0te')).code).toBe('xml-broken');
    expect(refusal('').code).toBe('xml-broken');
  });

  test('no parts, no bars', () => {
    expect(refusal('<score-partwise/>').code).toBe('no-bars');
    expect(refusal('<score-timewise/>').code).toBe('no-bars');
    expect(refusal(onePart('')).code).toBe('no-bars');
  });
});

describe('hostile archives', () => {
  const archive = (files: Record<string, Uint8Array>): Uint8Array => zipSync(files, { level: 9 });
  const score = archive({ 'score.xml': strToU8(plain) });

  test('cut off anywhere: an error, never a score', () => {
    for (let length = 4; length < score.length; length += 1)
      expect(refusal(score.slice(0, length)).code).toMatch(/^(?:file-truncated|zip-damaged)$/);
    expect(refusal(score.slice(0, score.length - 10)).message).toMatch(/cut off/);
  });

  test('one byte changed in the packed data is noticed', () => {
    const damaged = score.slice();
    damaged[60] = (damaged[60] ?? 0) ^ 0x55;
    expect(refusal(damaged).code).toBe('zip-damaged');
  });

  test('a bomb stops at its real size, whatever it claims', () => {
    const bomb = archive({ 'score.xml': new Uint8Array(80 * 1024 * 1024) });
    expect(bomb.length).toBeLessThan(200_000);
    expect(refusal(bomb).code).toBe('file-too-large');
    // The same, claiming to hold ten bytes: the sizes in the local header and in the table of contents.
    const liar = bomb.slice();
    const view = new DataView(liar.buffer);
    for (let at = 0; at + 46 < liar.length; at += 1) {
      if (view.getUint32(at, true) === 0x04034b50) view.setUint32(at + 22, 10, true);
      if (view.getUint32(at, true) === 0x02014b50) view.setUint32(at + 24, 10, true);
    }
    expect(refusal(liar).code).toBe('file-too-large');
  });

  test('too many files', () => {
    const many = Object.fromEntries(Array.from({ length: 3000 }, (_, n) => [`${n}.txt`, new Uint8Array(0)]));
    expect(refusal(archive(many)).code).toBe('zip-too-many');
  });
});

describe('contradictory music', () => {
  test('missing, zero and absurd divisions', () => {
    const without = read(onePart(measure('1', `<attributes>${time(4, 4)}</attributes>${fullBar()}`)));
    expect(without.codes).toEqual(['divisions-missing']);
    expect(sounding(without.score)).toEqual(['0 1 60']);
    for (const divisions of ['0', '-4', 'x', '1e99']) {
      const { score, codes } = read(onePart(measure('1', attributes(divisions) + fullBar())));
      expect(codes[0]).toBe('divisions-unreadable');
      expect(sounding(score)).toEqual(['0 1 60']);
    }
  });

  test('divisions that change without end are refused', () => {
    const one = (n: number): string =>
      `<attributes><divisions>${1009 + 2 * n}</divisions></attributes>${note('C4', 1)}`;
    const inOneBar = measure('1', attributes(1) + Array.from({ length: 500 }, (_, n) => one(n)).join(''));
    expect(refusal(onePart(inOneBar)).code).toBe('divisions-absurd');
    const overBars = Array.from({ length: 500 }, (_, n) => measure(String(n), one(n))).join('');
    expect(refusal(onePart(overBars)).code).toBe('divisions-absurd');
  });

  test('impossible durations of notes and moves', () => {
    const { score, codes } = read(
      onePart(
        measure(
          '1',
          `${attributes(1)}<backup><duration>9</duration></backup>${note('C4', 4)}<backup><duration>-4</duration></backup><forward><duration>99999999999999</duration></forward>${note('D4', '1e30')}`,
        ),
      ),
    );
    expect(sounding(score)).toEqual(['0 1 60']);
    expect(barLengths(score)).toEqual(['1']);
    expect(codes).toEqual([
      'backup-too-far',
      'duration-out-of-range',
      'duration-out-of-range',
      'duration-out-of-range',
    ]);
  });

  test('unreadable pitches, metres, keys and clefs are told and passed over', () => {
    const { codes } = read(
      onePart(
        measure(
          '1',
          attributes(
            1,
            `<key><fifths>many</fifths></key><time><beats>0</beats><beat-type>4</beat-type></time>${time(4, 4)}<clef><sign>Q</sign></clef>`,
          ) + '<note><pitch><step>H</step><octave>4</octave></pitch><duration>4</duration></note>',
        ),
      ),
    );
    expect([...codes].sort()).toEqual([
      'clef-unknown',
      'key-unreadable',
      'metre-unreadable',
      'pitch-unreadable',
    ]);
  });

  test.each(['constructor', '__proto__', 'toString', 'hasOwnProperty'])(
    'the name %s, which every object has, means nothing wherever a name may stand',
    (name) => {
      const element = `<${name}>1</${name}>`;
      const { codes } = read(
        onePart(
          measure(
            '1',
            attributes(1, `${time(4, 4)}<clef><sign>${name}</sign></clef>${element}`) +
              `<direction><direction-type>${element}</direction-type></direction>${element}` +
              note(
                'C4',
                4,
                `<type>${name}</type><notations>${element}<articulations>${element}</articulations><dynamics>${element}</dynamics></notations>${element}`,
              ) +
              `<barline location="right"><bar-style>${name}</bar-style></barline>`,
          ),
        ),
      );
      expect(codes).toContain('clef-unknown');
      expect(codes).toContain('not-kept');
    },
  );

  test('hundreds of thousands of things in one bar neither break nor hang the reader', () => {
    const many = (text: string): string => text.repeat(150_000);
    const direction = '<direction><direction-type><dynamics><p/></dynamics></direction-type></direction>';
    const crowded = note(
      'C4',
      4,
      `<notations><articulations>${many('<accent/>')}</articulations></notations>`,
    );
    const { score } = read(onePart(measure('1', attributes(1) + many(direction) + crowded)));
    expect(score.parts[0]?.directions.length).toBe(150_000);
    expect(score.parts[0]?.written[0]?.marks.articulations.length).toBe(150_000);
    const brackets = `<direction><direction-type><words>${many(')')}x</words></direction-type></direction>`;
    expect(read(onePart(measure('1', attributes(1) + brackets + fullBar()))).score.bars.length).toBe(1);
  });

  test('a crowd of findings is told in part and counted', () => {
    const { problems } = read(
      onePart(
        Array.from({ length: 300 }, (_, n) =>
          measure(String(n), (n === 0 ? attributes(1) : '') + note('C4', 5)),
        ).join(''),
      ),
    );
    expect(problems.length).toBeLessThan(40);
    expect(problems.at(-1)?.message).toContain('275 times');
  });
});

test('a thousand mutations of real and small files: a score that holds together, or an error', () => {
  const { read: good, refused } = fuzzMusicXml(20_240_501, 1000);
  // Both ways out are taken, so the mutations are neither harmless nor all fatal.
  expect(good).toBeGreaterThan(100);
  expect(refused).toBeGreaterThan(100);
});
