/** levare plan and levare pack as they are typed: plans, who is there, the journal in a folder, packs. */
import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import {
  editableJournal,
  newEnsemble,
  newPiece,
  packsSchema,
  pieceHash,
  pieceId,
  planSchema,
  playerSchema,
  toldTake,
  type Records,
  type ShelfRecord,
} from '../../src/desk/index.ts';
import { keyed } from '../../src/desk/journal/keep.ts';
import { levare } from './run.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-plan-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));
const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');
const hash = pieceHash(readFileSync(demo));
const piece = pieceId('own', hash);

const planOf = async (...more: readonly string[]) => {
  const { code, out, err } = await levare(['plan', demo, '--minutes', '60', '--json', ...more]);
  expect([code, err]).toStrictEqual([0, '']);
  return planSchema.parse(JSON.parse(out));
};

const told = (id: string, text: 'held' | 'not-yet', nth: number): ShelfRecord => ({
  kind: 'journal-take',
  value: toldTake(
    text,
    { bars: '50-51', playing: 'click', parts: ['P1', 'P2'] },
    {
      id,
      piece,
      rehearsal: 'own.2026-11-20',
      day: '2026-11-20',
      nth,
      place: 'shared-line 1/8 @50:1-51:4 P1+P2',
      step: 'all bar auto',
      players: { P1: 'anna', P2: 'ben' },
    },
  ),
});

const journal = (takes: readonly ShelfRecord[]): Records =>
  keyed([
    {
      kind: 'ensemble',
      value: {
        ...newEnsemble('own', 'Duo'),
        players: {
          anna: { name: 'Anna', instrument: 'Flute' },
          ben: { name: 'Ben', instrument: 'Clarinet' },
        },
      },
    },
    {
      kind: 'piece',
      value: {
        ...newPiece('own', hash, { file: 'demo', found: 'Lanterns' }),
        players: { P1: 'anna', P2: 'ben' },
      },
    },
    ...takes,
  ]);

const folderOf = (name: string, records: Records): string => {
  const folder = path.join(place, name);
  mkdirSync(folder);
  writeFileSync(path.join(folder, 'journal.json'), editableJournal.text(records));
  return folder;
};

const takesIn = (folder: string): readonly string[] => {
  const read = editableJournal.read(readFileSync(path.join(folder, 'journal.json')));
  if (!read.ok) throw new Error(read.error.message);
  return [...read.value.keys()].filter((key) => key.startsWith('journal-take:')).sort();
};

describe('levare plan', () => {
  it('plans the minutes there are, and prints them as a list that can be read', async () => {
    const plan = await planOf();
    expect(plan.items.reduce((sum, { minutes }) => sum + minutes, 0)).toBe(60);
    const { out } = await levare(['plan', demo, '--minutes', '60', '--language', 'de']);
    expect(out).toContain('60 Minuten.');
    expect(out).toMatch(/ 0:00 {2}\d+ Min\. Abwechselnd: Takt /);
  });

  it('knows who is there by part, by name of the part, and by name of the player', async () => {
    const ours = folderOf('present', journal([]));
    const kindsOf = (plan: Awaited<ReturnType<typeof planOf>>): readonly string[] =>
      plan.items.map(({ place: key }) => key.split(' ').at(-1) ?? '');
    const byId = await planOf('--present', 'P1');
    expect(new Set(kindsOf(byId))).toStrictEqual(new Set(['P1', '']));
    expect(await planOf('--present', 'flute')).toStrictEqual(byId);
    expect(await planOf('--present', 'anna', '--journal', ours)).toStrictEqual(byId);
    const { code, err } = await levare(['plan', demo, '--minutes', '60', '--present', 'Cello']);
    expect([code === 0, err.includes('There is no part "Cello"')]).toStrictEqual([false, true]);
  });

  it('prints a plan that was changed by hand, with what it does not keep to', async () => {
    const out = path.join(place, 'today');
    expect((await levare(['plan', demo, '--minutes', '30', '--out', out])).code).toBe(0);
    const plan = planSchema.parse(JSON.parse(readFileSync(path.join(out, 'plan.json'), 'utf8')));
    const changed = { ...plan, items: plan.items.map((item) => ({ ...item, minutes: item.minutes + 10 })) };
    writeFileSync(path.join(out, 'plan.json'), JSON.stringify(changed));
    const again = await levare(['plan', demo, '--from', out]);
    expect(again.out).toContain('This is longer than the time there is.');
    writeFileSync(path.join(out, 'plan.json'), JSON.stringify({ ...plan, format: 'levare.plan/2' }));
    expect((await levare(['plan', demo, '--from', out])).err).toContain('format version 2');
  });

  it('merges two journals, gives what there is of a player, and deletes it for good', async () => {
    const ours = folderOf('ours', journal([told('t1', 'held', 1)]));
    const theirs = folderOf('theirs', journal([told('t1', 'held', 1), told('t2', 'not-yet', 2)]));
    const run = async (...args: readonly string[]): Promise<string> => {
      const { code, out, err } = await levare(['plan', demo, ...args, '--journal', ours]);
      expect([code, err]).toStrictEqual([0, '']);
      return out;
    };
    await run('--merge', theirs);
    expect(takesIn(ours)).toStrictEqual(['journal-take:t1', 'journal-take:t2']);
    const given = playerSchema.parse(JSON.parse(await run('--give', 'anna')));
    expect([given.name, given.takes.length]).toStrictEqual(['Anna', 2]);
    await run('--forget', 'anna');
    const left = playerSchema.parse(JSON.parse(await run('--give', 'anna')));
    expect([left.name, left.takes.length]).toStrictEqual(['', 0]);
    // An old copy does not bring it back.
    await run('--merge', theirs);
    expect(readFileSync(path.join(ours, 'journal.json'), 'utf8')).not.toContain('Anna');
  });

  it.each(['drill', 'pack'])(
    '%s: a value that keeps no note is an error, and nothing is written',
    async (command) => {
      const out = path.join(place, `nothing-${command}`);
      const asked = [command, demo, '--bars', '10-11', '--keep', '1/7', '--paper', 'none', '--out', out];
      const { code, err } = await levare(asked);
      expect(code).not.toBe(0);
      expect(err).toContain('No note of the passage is "1/7", so there would be nothing to play');
      expect(existsSync(out)).toBe(false);
    },
  );

  it('says what is missing', async () => {
    expect((await levare(['plan'])).err).toContain('Name a score');
    expect((await levare(['plan', demo])).err).toContain('--minutes 60');
    expect((await levare(['plan', demo, '--minutes', '3'])).err).toContain('from 5 to 1440');
    expect((await levare(['plan', demo, '--growth'])).err).toContain('--journal');
  });
});

describe('levare pack', () => {
  it('writes one zip for each player, and says what it wrote', async () => {
    const out = path.join(place, 'packs');
    const {
      code,
      out: said,
      err,
    } = await levare([
      ...['pack', demo, '--bars', '10-11', '--click', 'bar', '--tempo', '72', '--paper', 'none'],
      ...['--for', 'P1=Anna,P2', '--out', out, '--json'],
    ]);
    expect([code, err]).toStrictEqual([0, '']);
    const { files } = packsSchema.parse(JSON.parse(said));
    const names = files.map(({ name }) => name).sort();
    expect(names).toStrictEqual([
      'Lanterns on the Towpath - Anna.zip',
      'Lanterns on the Towpath - Clarinet in B♭.zip',
    ]);
    expect(readdirSync(out).sort()).toStrictEqual(names);
    for (const name of names)
      expect(execFileSync('unzip', ['-t', path.join(out, name)], { encoding: 'utf8' })).toContain(
        'No errors',
      );
  });

  it('says what is missing', async () => {
    expect((await levare(['pack'])).err).toContain('Name the folders of drills');
    expect((await levare(['pack', demo, '--bars', '10-11'])).err).toContain('--out');
    expect((await levare(['pack', demo, '--out', path.join(place, 'none')])).err).toContain('Say which bars');
  });
});
