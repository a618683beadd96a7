/** Long drills of a bar plan made by the command line, their clicks read from the WAV by a program outside the project. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { python, type ClickReport, type Pulse } from '../sound/timelines.ts';
import { levare } from './run.ts';

/** A pulse of the click arithmetic in the check values, and the drill that makes it. */
export interface Case {
  readonly name: string;
  readonly pulse: Pulse;
  readonly metre: string;
  /** Bars a minute. */
  readonly bars: number;
  readonly options: readonly string[];
}

export const cases: readonly Case[] = [
  {
    name: '22.5 a minute: once a bar of 4/4 at quarter = 90',
    pulse: { perMinute: '22.5', steps: [1] },
    metre: '4/4',
    bars: 22.5,
    options: ['--click', 'bar', '--tempo', '90'],
  },
  {
    name: '45 a minute: half bars of 4/4 at quarter = 90',
    pulse: { perMinute: '45', steps: [1, 1] },
    metre: '4/4',
    bars: 22.5,
    options: ['--click', 'half', '--tempo', '1/4=90'],
  },
  {
    name: '90 a minute: every beat of 4/4',
    pulse: { perMinute: '90', steps: [1, 1, 1, 1] },
    metre: '4/4',
    bars: 22.5,
    options: ['--tempo', '90'],
  },
  {
    name: '133.33 a minute: every beat of 3/4',
    pulse: { perMinute: '133.33', steps: [1, 1, 1] },
    metre: '3/4',
    bars: 133.33 / 3,
    options: ['--tempo', '133.33'],
  },
  {
    name: '7/8 as 2+2+3 at eighth = 211',
    pulse: { perMinute: '211', steps: [2, 2, 3] },
    metre: '7/8',
    bars: 211 / 7,
    options: ['--tempo', '1/8=211', '--groups', '2+2+3'],
  },
];

/** Makes the drill and lets the outside program compare; also how many clicks the timeline has. */
export const measured = async (
  { metre, bars, options, pulse }: Case,
  minutes: number,
): Promise<ClickReport & { readonly timelineClicks: number }> => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-exact-'));
  try {
    const count = Math.floor(bars * minutes);
    writeFileSync(path.join(folder, 'plan.txt'), `1-${count} ${metre}`);
    const out = path.join(folder, 'drill');
    const args = [
      'drill',
      path.join(folder, 'plan.txt'),
      '--bars',
      'all',
      '--count-in',
      'none',
      '--out',
      out,
    ];
    const ran = await levare([...args, ...options]);
    if (ran.code !== 0) throw new Error(ran.err);
    const steps = ['--per-minute', pulse.perMinute, '--steps', pulse.steps.join(',')];
    const program = path.resolve('test', 'outside', 'wav_clicks.py');
    const stdout = await python(program, path.join(out, 'click.wav'), ...steps);
    const timeline = JSON.parse(readFileSync(path.join(out, 'timeline.json'), 'utf8')) as {
      clicks: unknown[];
    };
    return { ...(JSON.parse(stdout) as ClickReport), timelineClicks: timeline.clicks.length };
  } finally {
    rmSync(folder, { recursive: true });
  }
};
