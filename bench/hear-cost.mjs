/**
 * What hearing costs: seconds of computing for a minute of sound, of our ear, of aubio's onset detector and of its pitch follower, in turn
 * on the same file; and how ours grows with the length. Processor time of the whole program, so that a busy machine counts little. Then four players through
 * one microphone: reading against the length of the take, its time and most memory against those of a take four times as long, and against another build (the
 * levare.js that LEVARE_BEFORE names) in turn.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { median, printRatios } from './measure.mjs';
import { largestQuartet } from './scores.mjs';

const root = path.resolve(import.meta.dirname, '..');
const program = path.join(root, 'bin', 'levare.js');
const demo = path.join(root, 'demo', 'lanterns-on-the-towpath.musicxml');
const runs = 3;

const run = (command, args) => {
  const { status, stdout, stderr, error } = spawnSync(command, args, {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (error !== undefined) throw error;
  if (status !== 0) throw new Error(`${path.basename(command)}: ${stderr}`);
  return stdout;
};

/** "0m1.234s" in seconds. */
const inSeconds = (text) => {
  const [, minutes, seconds] = /^(\d+)m([\d.]+)s$/.exec(text);
  return 60 * Number(minutes) + Number(seconds);
};

/** User and system seconds of one run: the second line of POSIX `times` is that of what the shell started. */
const processor = (command, ...args) => {
  const script = '"$@" >/dev/null 2>&1 || exit 1; times';
  const lines = run('/bin/sh', ['-c', script, 'sh', command, ...args])
    .trim()
    .split('\n');
  return lines[1]
    .split(' ')
    .map(inSeconds)
    .reduce((a, b) => a + b, 0);
};

const installed = (name) => spawnSync('which', [name]).status === 0;

/** A drill, and the sound of its first part with the click, as that player's recording. */
const take = (place, times) => {
  const made = (name, more) => {
    const out = path.join(place, `${name}${times}`);
    const asked = ['--bars', '1-8', '--times', String(times), '--words', 'none', '--paper', 'none'];
    run(process.execPath, [program, 'drill', demo, ...asked, ...more, '--out', out]);
    return out;
  };
  const wav = path.join(made('solo', ['--without', 'P2']), 'full.wav');
  return { drill: made('drill', []), wav };
};

/** Minutes of a WAV file of one channel, 48 kHz and 16 bits, from its length. */
const minutesOf = (wav) => Number(run('wc', ['-c', wav]).split(' ')[0]) / (2 * 48_000 * 60);

/** Bars of a quartet, under a minute, and of the demo where there is none; and how often they are played in the long take. */
const [quartetBars, demoBars, often] = ['1-60', 'all', 4];

/** Most memory of one run in MB, by the program's own count. */
const memory = (program, ...args) => {
  const count = 'process.on("exit",()=>process.stderr.write(`\n${process.resourceUsage().maxRSS}`))';
  const { status, stderr } = spawnSync(
    process.execPath,
    ['--import', `data:text/javascript,${count}`, program, ...args],
    { encoding: 'utf8', maxBuffer: 1 << 28 },
  );
  if (status !== 0) throw new Error(stderr);
  return Number(stderr.trim().split('\n').at(-1)) / 1024;
};

/** A drill's own sound, all parts and the click, as the one recording of all players; read in turn with the build before, where one is named. */
const throughOneMicrophone = (place) => {
  const quartet = largestQuartet();
  const score = quartet === null ? demo : path.join(place, 'quartet.mxl');
  if (quartet !== null) writeFileSync(score, quartet);
  const bars = ['--bars', quartet === null ? demoBars : quartetBars];
  const made = (times) => {
    const out = path.join(place, `all${times}`);
    const asked = [...bars, '--times', String(times), '--words', 'none', '--paper', 'none'];
    run(process.execPath, [program, 'drill', score, ...asked, '--out', out]);
    return { drill: out, wav: path.join(out, 'full.wav') };
  };
  const { drill, wav } = made(1);
  const length = 60 * minutesOf(wav);
  const { LEVARE_BEFORE: before } = process.env;
  const builds = { ...(before === undefined ? {} : { before }), 'levare hear': program };
  const asked = ['hear', wav, '--drill', drill, '--json'];
  const spent = Object.fromEntries(Object.keys(builds).map((name) => [name, []]));
  for (let i = 0; i < runs; i += 1)
    for (const [name, build] of Object.entries(builds))
      spent[name].push(processor(process.execPath, build, ...asked));
  const medians = Object.fromEntries(Object.entries(spent).map(([name, values]) => [name, median(values)]));
  printRatios(`Through one microphone, a take of ${length.toFixed(0)} s: seconds of computing`, medians, 's');
  for (const [name, value] of Object.entries(medians))
    console.log(`  ${name.padEnd(58)} ${(value / length).toPrecision(3).padStart(9)} of the take's length`);
  const long = made(often);
  const takes = {
    [`${length.toFixed(0)} s`]: { drill, wav },
    [`${(60 * minutesOf(long.wav)).toFixed(0)} s`]: long,
  };
  const each = (measure) =>
    Object.fromEntries(
      Object.entries(takes).map(([name, take]) => [name, measure(['hear', take.wav, '--drill', take.drill])]),
    );
  printRatios(
    'Through one microphone, one take and a longer one: computing',
    each((args) => processor(process.execPath, program, ...args)),
    's',
  );
  printRatios(
    'The same: most memory',
    each((args) => memory(program, ...args)),
    'MB',
  );
  if (before === undefined) return;
  const [then, now] = Object.values(builds).map((build) => run(process.execPath, [build, ...asked]));
  console.log(`  the readings are ${then === now ? 'the same to the last digit' : 'NOT the same'}`);
};

export const benchHear = async () => {
  const place = mkdtempSync(path.join(tmpdir(), 'levare-hear-cost-'));
  try {
    throughOneMicrophone(place);
    const lengths = [2, 4, 8].map((times) => {
      const { drill, wav } = take(place, times);
      return { drill, wav, minutes: minutesOf(wav) };
    });
    const hear = ({ drill, wav }) =>
      processor(process.execPath, program, 'hear', `P1=${wav}`, '--drill', drill);
    const others = ['aubioonset', 'aubiopitch'].filter((name) => {
      const there = installed(name);
      if (!there) console.log(`${name} is not installed (apt-get install aubio-tools): left out`);
      return there;
    });
    const [shortest] = lengths;
    const tasks = {
      'levare hear': () => hear(shortest),
      ...Object.fromEntries(others.map((name) => [name, () => processor(name, '-i', shortest.wav)])),
    };
    const spent = Object.fromEntries(Object.keys(tasks).map((name) => [name, []]));
    for (let i = 0; i < runs; i += 1)
      for (const [name, task] of Object.entries(tasks)) spent[name].push(task() / shortest.minutes);
    printRatios(
      `Seconds of computing a minute of sound (a file of ${shortest.minutes.toFixed(1)} min)`,
      Object.fromEntries(Object.entries(spent).map(([name, values]) => [name, median(values)])),
      's',
    );
    printRatios(
      'levare hear on takes of 1, 2 and 4 times the length, whole',
      Object.fromEntries(lengths.map((one) => [`${one.minutes.toFixed(1)} min`, hear(one)])),
      's',
    );
  } finally {
    rmSync(place, { recursive: true, force: true });
  }
};
