/** Mutations of real plans: whatever is typed, the reader answers with a score or a sentence, never by breaking. */
import { expect } from 'vitest';
import { looksLikeBarPlan, readBarPlan } from '../../src/score/read/barplan.ts';
import { seeded } from '../../src/units/index.ts';

const plans = [
  'pickup 1/4; 1-16 4/4 twice; 17-24 3/4; tempo 1/4=92',
  'title "Trio"\n1-8 C twice; 9-12 2/4+3/8; 13 free lasts 9/4\nending 1 at 7-8; segno at 3; D.S. al coda at 12; to coda at 5; coda at 13',
  '0 4/4 lasts 1/4 pickup; 1-40 6/8; tempo 1/4.=60 at 17+3/8; rit. at 20; mark A at 17; old 1/8 = new 1/4 at 9',
  '16 bars cut; 4 unnumbered bars 3/4; 12a 5/8 renumbered 3 times also after D.C.; double line at 4',
];
const pieces = [
  ' ',
  ';',
  '\n',
  '"',
  '\\',
  '-',
  '/',
  '0',
  '9999999999',
  '1-100000 4/4',
  '–',
  '\t',
  '=',
  '+',
  'at ',
  '.',
  '4/0',
  'twice',
  '#',
];

export const fuzzBarPlans = (seed: number, count: number): void => {
  console.log(`Fuzzing the reader of bar plans with seed ${seed}, ${count} inputs.`);
  const random = seeded(seed);
  const pick = <T>(list: readonly T[]): T | undefined => list[Math.floor(random() * list.length)];
  for (let round = 0; round < count; round += 1) {
    let text = pick(plans) ?? '';
    for (let edits = 1 + Math.floor(random() * 5); edits > 0; edits -= 1) {
      const at = Math.floor(random() * (text.length + 1));
      const cut = Math.floor(random() * 4);
      const put = random() < 0.6 ? (pick(pieces) ?? '') : String.fromCharCode(Math.floor(random() * 0x300));
      text = text.slice(0, at) + put + text.slice(at + cut);
    }
    expect(typeof looksLikeBarPlan(text)).toBe('boolean');
    const result = readBarPlan(text);
    if (result.ok) expect(result.value.bars.length, text).toBeGreaterThan(0);
    else {
      expect(result.error.severity, text).toBe('error');
      expect(result.error.message.length, text).toBeGreaterThan(10);
    }
  }
};
