import { describe, expect, it } from 'vitest';
import { nothingAsked, requestOf, tempoSteps } from '../../src/app/asked.ts';
import { page as deutsch } from '../../src/app/words/de/page.ts';
import { page } from '../../src/app/words/en/page.ts';
import { plainBlocks, plainRuns } from '../../src/app/plainText.ts';
import { readRequest } from '../../src/desk/index.ts';

describe('the margin as a request', () => {
  it.each([
    ['72', '72'],
    ['72 · 80 · 88', '72,80,88'],
    ['72 80  88', '72,80,88'],
    ['72, 80; 88', '72,80,88'],
    ['72,5 80', '72.5,80'],
    ['72,80,88', '72,80,88'],
    ['80 % 90 %', '80%,90%'],
    ['1/4. = 60', '1/4.=60'],
    ['', ''],
  ])('reads tempi as players write them: %s', (written, steps) => {
    expect(tempoSteps(written)).toBe(steps);
  });

  it.each([
    ['10', '17', '10-17'],
    ['10', '10', '10'],
    ['10', '', '10'],
    ['', '17', '17'],
    ['', '', 'all'],
    [' A ', 'C', 'A-C'],
  ])('bars %s to %s', (from, to, bars) => {
    expect(requestOf({ ...nothingAsked, from, to }).bars).toBe(bars);
  });

  it('is understood by the desk as it stands', () => {
    expect(readRequest(requestOf(nothingAsked)).ok).toBe(true);
    const asked = { ...nothingAsked, click: 'own', ownClick: '2 4', tempo: '72 · 80', times: '2' };
    expect(readRequest(requestOf(asked))).toMatchObject({
      ok: true,
      value: { bars: 'all', click: '2 4', tempo: ['72', '80'], times: 2, countIn: 'auto' },
    });
  });
});

it('names and lengths read as one says them', () => {
  expect(page.listed([])).toBe('');
  expect(page.listed(['Flute'])).toBe('Flute');
  expect(page.listed(['Flute', 'Oboe', 'Horn'])).toBe('Flute, Oboe and Horn');
  expect(deutsch.listed(['Flöte', 'Oboe', 'Horn'])).toBe('Flöte, Oboe und Horn');
  expect([1, 60, 125].map(deutsch.lasting)).toStrictEqual(['1 Sekunde', '1 Minute', '2 Minuten 5']);
  expect([66.46, 72].map(deutsch.figure)).toStrictEqual(['66,5', '72']);
  expect([1, 26.1, 60, 125].map(page.lasting)).toStrictEqual([
    '1 second',
    '26 seconds',
    '1 minute',
    '2 minutes 5',
  ]);
});

it('the text about hearing keeps its headings, lists and bold words', () => {
  const text = '# Title\n\nA line\ngoes on.\n\n- **One.** First\n  item\n- Second\n';
  expect(plainBlocks(text)).toStrictEqual([
    { kind: 'heading', content: 'Title' },
    { kind: 'paragraph', content: 'A line goes on.' },
    { kind: 'item', content: '**One.** First item' },
    { kind: 'item', content: 'Second' },
  ]);
  expect(plainRuns('**One.** First')).toStrictEqual([
    { text: 'One.', bold: true },
    { text: ' First', bold: false },
  ]);
});
