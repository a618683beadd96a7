/** The exported shelf: nothing is lost on the way, and what is damaged, older or newer is told. */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import {
  isShelfFile,
  memoryShelf,
  readShelfFile,
  shelfFile,
  ShelfKeeper,
  shelfSchema,
  type ShelfContent,
} from '../../../src/desk/index.ts';
import { canonical } from '../../../src/desk/shelf/merge.ts';
import { anyShelf, plans } from './records.ts';

const textOf = ({ records, scores }: ShelfContent): string =>
  canonical({
    records: Object.fromEntries([...records].map(([key, { value }]) => [key, value])),
    scores: Object.fromEntries([...scores].map(([hash, bytes]) => [hash, strFromU8(bytes)])),
  });

const read = (bytes: Uint8Array): ShelfContent => {
  const shelf = readShelfFile(bytes);
  if (!shelf.ok) throw new Error(shelf.error.message);
  return shelf.value;
};

/** A shelf after the import of some files. */
const imported = async (files: readonly Uint8Array[]): Promise<ShelfContent> => {
  const keeper = new ShelfKeeper(memoryShelf(), 'w', () => undefined);
  for (const file of files) {
    const { records, scores } = read(file);
    keeper.put(records.values(), scores);
  }
  await keeper.settled();
  const content = await keeper.content(keeper.state.records.keys());
  if (!content.ok) throw new Error(content.error.message);
  return content.value;
};

const example = (): Uint8Array =>
  readFileSync(path.resolve('test', 'desk', 'fixtures', 'levare.shelf.1.zip'));

/** The example with its list changed. */
const changed = (
  change: (list: Record<string, unknown>) => unknown,
  more: Record<string, Uint8Array> = {},
) => {
  const files = unzipSync(example());
  const list: unknown = JSON.parse(strFromU8(files['shelf.json'] ?? new Uint8Array()));
  if (typeof list !== 'object' || list === null) throw new Error('The example has no list.');
  return zipSync({ ...files, 'shelf.json': strToU8(JSON.stringify(change({ ...list }))), ...more });
};

const problemsOf = (bytes: Uint8Array): readonly string[] => {
  const shelf = readShelfFile(bytes);
  return shelf.ok ? shelf.problems.map(({ code }) => code) : [`error ${shelf.error.code}`];
};

describe('export and import', () => {
  it('give back every record and every byte; the same shelf gives the same file', () => {
    fc.assert(
      fc.property(anyShelf, (shelf) => {
        const file = shelfFile(shelf);
        expect(isShelfFile(file)).toBe(true);
        expect(textOf(read(file))).toBe(textOf(shelf));
        const turned = new Map([...shelf.records].reverse());
        expect(shelfFile({ ...shelf, records: turned })).toStrictEqual(file);
      }),
    );
  });

  it('twice is once, and in whichever order the same is kept', async () => {
    await fc.assert(
      fc.asyncProperty(anyShelf, anyShelf, async (one, two) => {
        const [a, b] = [shelfFile(one), shelfFile(two)];
        const both = textOf(await imported([a, b]));
        expect(textOf(await imported([b, a]))).toBe(both);
        expect(textOf(await imported([a, b, a, b, b]))).toBe(both);
      }),
      { numRuns: 40 },
    );
  });

  it('lose no piece, no score and no ensemble of either', async () => {
    await fc.assert(
      fc.asyncProperty(anyShelf, anyShelf, async (one, two) => {
        const { records, scores } = await imported([shelfFile(one), shelfFile(two)]);
        for (const shelf of [one, two]) {
          for (const key of shelf.records.keys()) expect(records.has(key)).toBe(true);
          for (const hash of shelf.scores.keys()) expect(scores.get(hash)).toStrictEqual(plans.get(hash));
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe('the example of version 1', () => {
  it('reads as it was written, and keeps to the published schema', () => {
    const { records, scores } = read(example());
    expect([...records.keys()].sort()).toStrictEqual([
      'ensemble:e-canal',
      'ensemble:own',
      'piece:e-canal.2d490a7d6245c423e2ffb6e9d5877c0e3dae85c98dbd8724ae6ad4ebb0b634b4',
      'saved-drill:d-1',
      'take:t-1',
      'tuning:u-1',
    ]);
    expect(records.get('ensemble:e-canal')?.value).toMatchObject({
      name: 'The Canal Trio',
      players: { p1: { name: 'Anna', instrument: 'Flute' } },
    });
    expect([...scores.values()].map((bytes) => strFromU8(bytes))).toStrictEqual([
      'title Canal music\n1-16 3/4; tempo 1/4=92\n',
    ]);
    const list: unknown = JSON.parse(strFromU8(unzipSync(example())['shelf.json'] ?? new Uint8Array()));
    expect(shelfSchema.safeParse(list).success).toBe(true);
  });

  it('says of what a later version keeps that it is kept', () => {
    expect(problemsOf(example())).toStrictEqual(['shelf-later']);
  });
});

describe('a shelf that is not as it should be', () => {
  it('of a newer version is refused, and the version is named', () => {
    const shelf = readShelfFile(changed((list) => ({ ...list, format: 'levare.shelf/2' })));
    expect(shelf.ok ? null : shelf.error).toMatchObject({ code: 'format-newer' });
    expect(shelf.ok ? '' : shelf.error.message).toContain('version 2');
  });

  it.each([
    ['no list', zipSync({ 'other.json': strToU8('{}') })],
    ['a list that is cut short', zipSync({ 'shelf.json': strToU8('{"format":"levare.shelf/1","rec') })],
    ['a list of something else', zipSync({ 'shelf.json': strToU8('{"format":"levare.drill/1"}') })],
    ['a list without scores', zipSync({ 'shelf.json': strToU8('{"format":"levare.shelf/1","records":[]}') })],
    ['a version that never was', zipSync({ 'shelf.json': strToU8('{"format":"levare.shelf/0"}') })],
  ])('%s', (_, bytes) => {
    expect(problemsOf(bytes)).toStrictEqual(['error shelf-damaged']);
  });

  it('cut anywhere is refused or tells what is missing; never is anything wrong taken', () => {
    const whole = example();
    for (let length = 1; length < whole.length; length += 7) {
      const shelf = readShelfFile(whole.subarray(0, length));
      expect(shelf.ok).toBe(false);
    }
  });

  it('with any byte changed is refused, told, or as it was', () => {
    const whole = example();
    const text = textOf(read(whole));
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 }), (at, by) => {
        const bytes = Uint8Array.from(whole, (byte, i) => (i === at ? byte ^ by : byte));
        const shelf = readShelfFile(bytes);
        if (shelf.ok && shelf.problems.length === 1) expect(textOf(shelf.value)).toBe(text);
      }),
      { numRuns: 500 },
    );
  });

  it('with one damaged record gives all others', () => {
    const bytes = changed((list) => ({
      ...list,
      records: [list['records'], { format: 'levare.piece/1' }].flat(),
    }));
    expect(problemsOf(bytes)).toStrictEqual(['shelf-record-damaged', 'shelf-later']);
    expect(read(bytes).records.size).toBe(read(example()).records.size);
  });

  it('with a changed or missing score keeps all else about the piece', () => {
    const name = Object.keys(unzipSync(example())).find((file) => file.startsWith('scores/')) ?? '';
    const bytes = changed((list) => list, { [name]: strToU8('1-4 C') });
    expect(problemsOf(bytes)).toStrictEqual(['shelf-score-damaged', 'shelf-later']);
    expect(read(bytes).scores.size).toBe(0);
    expect([...read(bytes).records.keys()].some((key) => key.startsWith('piece:'))).toBe(true);
  });

  it('with strange files beside it says that they are not kept', () => {
    expect(problemsOf(changed((list) => list, { 'holiday.jpg': strToU8('x') }))).toContain('not-kept');
  });

  it('is told from scores', () => {
    const demo = readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml'));
    expect(isShelfFile(demo)).toBe(false);
    const packed = zipSync({ 'META-INF/container.xml': strToU8('<x/>'), 'a.musicxml': new Uint8Array(demo) });
    expect(isShelfFile(packed)).toBe(false);
    expect(isShelfFile(strToU8('{"format": "levare.shelf/1"}'))).toBe(true);
  });
});

it('there is an example for each version', () => {
  for (let version = 1; version <= 1; version += 1)
    expect(existsSync(path.resolve('test', 'desk', 'fixtures', `levare.shelf.${version}.zip`))).toBe(true);
});
