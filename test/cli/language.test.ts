/** Pages in German from the command line: as poppler reads them, and what the PDF says of its own language. */
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { levarePages } from '../support/levarePages.ts';
import { pdfLanguage } from '../support/pdfCatalog.ts';
import { poppler } from '../sheet/support.ts';

const { folder, levare } = levarePages();

const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');

const textOf = (file: string): string =>
  execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });

const drill = async (name: string, ...more: string[]): Promise<string> => {
  const out = path.join(folder, name);
  const asked = ['--bars', '10-11', '--keep', '1/8', '--click', 'weak', '--tempo', '72.5,80', '--times', '3'];
  const { code, err } = await levare('drill', demo, ...asked, '--out', out, ...more);
  expect(code, err).toBe(0);
  return out;
};

describe.skipIf(!poppler)('the language of what is made', () => {
  it('is that of the pages of a drill, of their PDF, and of the spoken count', async () => {
    const [english, german, spoken] = await Promise.all([
      drill('english'),
      drill('german', '--language', 'de'),
      drill('spoken', '--words', 'de', '--paper', 'none'),
    ]);
    const score = textOf(path.join(german, 'score.pdf'));
    for (const words of [
      'Partitur',
      'Takte 10–11',
      '= 72,5 · 80',
      'nur Achtel · Klick auf den leichten Schlägen · je 3 Mal',
    ])
      expect(score).toContain(words);
    expect(score).toMatch(/eins\s+zwei\s+eins\s+zwei\s+drei\s+vier/);
    // What the composer wrote stays as it is.
    const own = score.replace(/light, as one player/g, '');
    expect(own).not.toMatch(/\b(bars?|click|times?|Score|one|two|three|four)\b/);
    for (const name of ['score.pdf', 'part-1-flute.pdf', 'part-2-clarinet-in-b.pdf']) {
      expect(pdfLanguage(readFileSync(path.join(german, name)))).toBe('de');
      expect(pdfLanguage(readFileSync(path.join(english, name)))).toBe('en');
    }
    expect(execFileSync('pdfinfo', [path.join(german, 'score.pdf')], { encoding: 'utf8' })).toMatch(
      /^Title:\s+Lanterns on the Towpath – Partitur$/m,
    );
    expect(textOf(path.join(english, 'score.pdf'))).toContain('bars 10–11');
    const bytes = (of: string, name: string): Buffer => readFileSync(path.join(of, name));
    expect(bytes(german, 'full.wav').equals(bytes(spoken, 'full.wav'))).toBe(true);
    expect(bytes(german, 'full.wav').equals(bytes(english, 'full.wav'))).toBe(false);
    // Music has no language: what other programs take is the same.
    for (const name of ['drill.musicxml', 'drill.mid', 'click.wav', 'timeline.json', 'drill.json'])
      expect(bytes(german, name).equals(bytes(english, name)), name).toBe(true);
  });

  it('says how often a repeat has been through', async () => {
    const out = path.join(folder, 'again');
    const tune = path.join(folder, 'again.abc');
    writeFileSync(tune, 'X:1\nT:Again\nM:4/4\nL:1/4\nK:C\n|: C D E F | G A B c :|\n');
    const { code, err } = await levare(
      'drill',
      tune,
      '--bars',
      '1',
      '--pass',
      '2',
      '--language',
      'de',
      '--out',
      out,
    );
    expect(code, err).toBe(0);
    expect(textOf(path.join(out, 'score.pdf'))).toContain('Takt 1, zweites Mal');
  });

  it('is that of the pages of places', async () => {
    const out = path.join(folder, 'places');
    const { code, err } = await levare('find', demo, '--out', out, '--language', 'de');
    expect(code, err).toBe(0);
    const text = textOf(path.join(out, 'places.pdf'));
    expect(text).toMatch(/\d+ Stellen/);
    expect(text).toContain('übernimmt:');
    expect(text).toMatch(/\d Linie/);
    expect(text).not.toMatch(/\b(places?|line|takes over|entry|unison)\b/);
    expect(pdfLanguage(readFileSync(path.join(out, 'places.pdf')))).toBe('de');
  });

  it('is one that there is', async () => {
    const out = path.join(folder, 'none');
    for (const words of [
      ['drill', demo, '--bars', '1'],
      ['find', demo],
    ]) {
      const { code, err } = await levare(...words, '--language', 'fr', '--out', out);
      expect(code).not.toBe(0);
      expect(err).toContain('the language is en or de');
    }
  });
});
