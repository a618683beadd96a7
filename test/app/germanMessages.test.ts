/** Every message that the page may show has its German. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { germanMessage, pairsOfCodes } from '../../src/app/words/messages/index.ts';
import { shapesOf } from '../../src/app/words/patterns.ts';
import { messageForms, type MessageForm } from '../support/messageForms.ts';

/**
 * What the page never asks for: the command line, recordings, tables of times, printed lists. What its own
 * shelf says stands in its own words.
 */
const elsewhere =
  /^src\/(cli|host\/node|together|app\/shelf)\/|^src\/desk\/(together|placesPages|barPlan|drillFolder|markingsFile)|^src\/score\/write\/barplan/;

/** What may stand in a hole, by what the source writes there; a mark of its own where anything may. */
const samples: readonly (readonly [RegExp, string])[] = [
  [/^many$|^timesText\(/, '3 times'],
  [/^(barName|nameOf)\(/, 'bar 7'],
  [/^lengthText\(/, '3/4 of a whole note'],
  [/^metreText\(/, '3/4'],
  [/^jumpWords\[/, 'da capo'],
  [/^one\.jump\.kind$/, 'toCoda'],
  [/^describe\(/, 'F#4'],
  [/^plural\(/, 'twice'],
  [/^instrument\.name$/, 'a piccolo'],
  [/^direction\.kind$/, 'wedge'],
  [/^suggestion\(/, ' Did you mean "pickup"?'],
  [/^these$/, 'these characters'],
  [/^their$/, 'their'],
  [/^offers$/, 'every, weak'],
  [/^(found\.unkept|what)$/, 'A phrase mark'],
  [/^kind$/, 'a picture (PNG)'],
];

const filledIn = ({ form, file }: MessageForm) => {
  const marks = new Map<string, string>();
  const text = form.replace(/\{([^{}]*(?:\{[^{}]*\}[^{}]*)*)\}/g, (_, hole: string) => {
    const sample = samples.find(([pattern]) => pattern.test(hole))?.[1];
    if (hole === 'kind' && file.includes('barplan')) return 'fine';
    if (sample !== undefined) return sample;
    const mark = marks.get(hole) ?? `‹${marks.size}›`;
    marks.set(hole, mark);
    return mark;
  });
  return { text, marks: [...marks.values()] };
};

const { forms, unread } = messageForms();
const shown = forms.filter(({ file }) => !elsewhere.test(file));

describe('German messages', () => {
  it('can be compared: the text of each message is found in the sources', () => {
    expect(shown.length).toBeGreaterThan(700);
    // These hand on what was said elsewhere.
    expect(unread.map((place) => place.replace(/:\d+$/, '')).sort()).toEqual([
      'src/desk/drillFolder.ts',
      'src/desk/shelf/keeper.ts',
      'src/drill/workOut.ts',
      'src/drill/workOut.ts',
      'src/host/browser/shelf.ts',
      'src/rhythm/tempoEvents.ts',
      'src/score/read/musicxml/container.ts',
    ]);
  });

  it('are there for each message', () => {
    const missing = shown
      .filter((one) => germanMessage(one.code, filledIn(one).text) === null)
      .map(({ code, form, file, line }) => `${code}: ${form} (${file}:${line})`);
    expect([...new Set(missing)]).toEqual([]);
  });

  it('are there for signs that are not kept', () => {
    const read = (file: string): string =>
      readFileSync(path.resolve(import.meta.dirname, '../..', file), 'utf8');
    const abc = [...read('src/score/read/abc/symbols.ts').matchAll(/unkept(?:\(|: )'([^']+)'/g)];
    const kern = /const unkept[^{]*\{([^]*?)\n\};/.exec(read('src/score/read/kern/token.ts'))?.[1] ?? '';
    const names = [...abc, ...kern.matchAll(/: ['"](.+)['"],/g)].map(([, name = '']) => name);
    expect(names.length).toBeGreaterThan(10);
    expect(
      names.filter((name) => germanMessage('not-kept', `${name} is not kept (found once).`) === null),
    ).toEqual([]);
  });

  it('keep what stands in the holes, but for the words of a machine', () => {
    const lost = shown.flatMap((one) => {
      const { text, marks } = filledIn(one);
      const german = germanMessage(one.code, text) ?? text;
      const machines = /\(\{\w+\??\.(message|why)|--octave|\{what\}\. The file|browser gives|PDF/;
      return machines.test(one.form) || marks.every((mark) => german.includes(mark)) ? [] : [one.form];
    });
    expect([...new Set(lost)]).toEqual([]);
  });

  it('have no pair that no message needs', () => {
    const texts = new Map<string, string[]>();
    for (const one of shown) texts.set(one.code, [...(texts.get(one.code) ?? []), filledIn(one).text]);
    const fits = (english: string, code: string): boolean =>
      (texts.get(code) ?? []).some((text) =>
        shapesOf(english).some(({ fixed }) => {
          let at = 0;
          return fixed.every((piece) => {
            const found = text.indexOf(piece, at);
            at = found + piece.length;
            return found >= 0;
          });
        }),
      );
    const unused = pairsOfCodes.flatMap(([codes, pairs]) =>
      pairs
        .filter(
          ([english]) => !english.endsWith('It is ignored.') && !codes.some((code) => fits(english, code)),
        )
        .map(([english]) => `${codes.join(' ')}: ${english}`),
    );
    expect(unused).toEqual([]);
  });
});
