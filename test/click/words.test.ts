import { describe, expect, it } from 'vitest';
import { countWord } from '../../src/click/countIn.ts';
import { countLanguages, countName, countNames, countWordIn } from '../../src/click/words.ts';

describe('count words', () => {
  // Cardinal numbers as any dictionary has them.
  it.each([
    ['de', 'three', 'drei'],
    ['nl', 'seven', 'zeven'],
    ['fr', 'eight', 'huit'],
    ['it', 'one', 'uno'],
    ['es', 'twelve', 'doce'],
    ['en', 'eleven', 'eleven'],
    ['de', 'and', 'und'],
  ] as const)('in %s: %s is %s', (language, word, said) => {
    expect(countWordIn(language, word, false)).toBe(said);
  });

  it('know every word that a count-in writes, fast or not', () => {
    for (let n = 1; n <= 12; n += 1) {
      expect(countName(countWord(n, false))).toBe(countNames[n - 1]);
      expect(countName(countWord(n, true))).toBe(countNames[n - 1]);
    }
  });

  it('have another word for each count in every language, fast or not', () => {
    for (const language of countLanguages) {
      for (const short of [false, true])
        expect(new Set(countNames.map((name) => countWordIn(language, name, short))).size).toBe(13);
    }
  });

  // Vowel letters in a row are one syllable in all of these; French final e is mute, and so is English "e" after a consonant.
  it('are one syllable when fast', () => {
    for (const language of countLanguages) {
      for (const name of countNames) {
        const said = countWordIn(language, name, true).replace(
          language === 'fr' || language === 'en' ? /e$/ : /^$/,
          '',
        );
        const vowels = said.match(/[aeiouyäöü]+/g) ?? [];
        expect({ said, syllables: Math.max(1, vowels.length) }).toEqual({ said, syllables: 1 });
      }
    }
  });

  it('leave figures as they are', () => {
    expect(countWordIn('fr', '13', true)).toBe('13');
    expect(countName('13')).toBeNull();
  });
});
