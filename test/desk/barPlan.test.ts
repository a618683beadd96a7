/** A bar plan printed from a score whose beams group its bars. Source: our definition (docs/formats/bar-plan.md). */
import { describe, expect, it } from 'vitest';
import { barPlanOf } from '../../src/desk/index.ts';
import { asWritten, barGrids } from '../../src/rhythm/beats.ts';
import type { Score } from '../../src/score/model.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { writeMusicXml } from '../../src/score/write/musicxml.ts';
import { F } from '../../src/units/index.ts';
import { music } from '../support/music.ts';
import { bytesOf } from './duo.ts';

const two = 'C4/8( D4/8)';
const three = 'C4/8( D4/8- E4/8)';
const usual = `${two} ${two} ${three}`;
const other = `${three} ${two} ${two}`;

const planOf = (score: Score): { text: string; groupings: string[] } => {
  const plan = barPlanOf(bytesOf(writeMusicXml(score).text));
  if (!plan.ok) throw new Error(plan.error.message);
  return {
    text: plan.value,
    groupings: plan.problems.map(({ message }) => message).filter((message) => message.includes('grouping')),
  };
};
const beatsOf = (score: Score): string[] =>
  barGrids(score, asWritten).map(({ beats }) => beats.map(({ length }) => F.format(length)).join(' '));
const read = (text: string): Score => {
  const result = readScore(bytesOf(text));
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

describe('groups that beams show', () => {
  const score = music('7/8 ; 7/8 ; 7/8 ; 7/8', { P1: [usual, other, other, usual].join(' | ') });

  it('are told where a plan has them not, once for each grouping', () => {
    expect(planOf(score).groupings).toEqual([
      'The grouping 3+2+2 that the beams of 7/8 show is not kept (2 bars, the first is 2; to count it so from the plan, write 3+2+2/8 there).',
    ]);
  });

  it('come back with the metre that is told', () => {
    const { text } = planOf(score);
    expect(text).toContain('1-4 7/8\n');
    expect(beatsOf(read(text))).not.toEqual(beatsOf(score));
    expect(beatsOf(read('1 7/8; 2-3 3+2+2/8; 4 7/8'))).toEqual(beatsOf(score));
  });

  it('are nothing to tell where a plan is counted like them', () => {
    const plain = music('7/8 ; 6/8 ; 5/8', { P1: `${usual} | ${three} ${three} | ${two} ${three}` });
    expect(planOf(plain).groupings).toEqual([]);
    expect(beatsOf(read(planOf(plain).text))).toEqual(beatsOf(plain));
  });
});
