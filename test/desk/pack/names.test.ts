/**
 * Names of files in a pack. Rules of Windows: Microsoft, "Naming Files, Paths, and Namespaces"; form C: Unicode UAX 15.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { folded, packNames, safeName, safeNames } from '../../../src/desk/pack/names.ts';

const nasty = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 200 }),
  fc.string({ unit: 'grapheme', maxLength: 200 }),
  fc
    .array(
      fc.constantFrom(
        'CON',
        'nul',
        'COM1',
        'lpt9',
        '.',
        ' ',
        '/',
        '\\',
        ':',
        '*',
        '\u0000',
        '\u202e',
        'e\u0301',
        'ß',
        '中',
        'ا',
        '🎻',
        '\ud800',
      ),
      { maxLength: 12 },
    )
    .map((list) => list.join('')),
);
const reserved = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\..*)?$/i;

describe('a safe name', () => {
  it('of any text is one that every system takes, with its ending', () => {
    fc.assert(
      fc.property(nasty, (text) => {
        const name = safeName(text, 'part');
        expect(name).not.toMatch(/[<>:"/\\|?*\u0000-\u001f\u007f]/);
        expect(name).not.toMatch(/^[. ]|[. ]$/);
        expect(name).not.toMatch(reserved);
        expect(name.length).toBeGreaterThan(0);
        expect(new TextEncoder().encode(`${name} 99.musicxml`).length).toBeLessThan(255);
        expect(name.normalize('NFC')).toBe(name);
        expect(new TextDecoder().decode(new TextEncoder().encode(name))).toBe(name);
        // A name that is safe stays as it is.
        expect(safeName(name, 'part')).toBe(name);
      }),
      { numRuns: 3000 },
    );
  });

  it.each([
    ['Flöte 1', 'Flöte 1'],
    ['Flo\u0308te', 'Flöte'],
    ['Клавесин', 'Клавесин'],
    ['二胡', '二胡'],
    ['עוד', 'עוד'],
    ['CON', 'CON-'],
    ['com1.txt', 'com1-'],
    ['Trio Op. 1.', 'Trio Op. 1'],
    ['a/b:c*d', 'a-b-c-d'],
    ['..\\..\\etc', '-..-etc'],
    ['', 'part'],
    ['???', 'part'],
  ])('%j is %j', (text, name) => {
    expect(safeName(text, 'part')).toBe(name);
  });

  it('tells all apart on systems that do not tell capitals, widths or composed letters apart', () => {
    expect(safeNames(['Violin', 'violin', 'VIOLIN', 'Ｖiolin'], 'part')).toEqual([
      'Violin',
      'violin 2',
      'VIOLIN 3',
      'Ｖiolin 4',
    ]);
    fc.assert(
      fc.property(fc.array(nasty, { maxLength: 12 }), (texts) => {
        const names = safeNames(texts, 'part');
        expect(new Set(names.map(folded)).size).toBe(texts.length);
      }),
      { numRuns: 500 },
    );
  });

  it('keeps the player in the name of a pack, however long the title is', () => {
    const title = 'String Quartet No.18 in A major, K.464 (Op. 10, No. 5), Menuetto and Trio';
    expect(packNames(title, ['Anna', 'Ben', 'Violoncello'])).toEqual([
      'String Quartet No.18 in A - Anna',
      'String Quartet No.18 in A - Ben',
      'String Quartet No.18 in A - Violoncello',
    ]);
    expect(packNames('', ['Anna'])).toEqual(['piece - Anna']);
  });
});
