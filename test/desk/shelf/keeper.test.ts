/** The keeper: what counts at once, what is kept, and what happens when keeping fails. */
import { expect, it } from 'vitest';
import {
  firstEnsemble,
  keysOfEnsemble,
  memoryShelf,
  newEnsemble,
  newPiece,
  pieceId,
  ShelfKeeper,
  type ShelfPort,
  type ShelfRecord,
} from '../../../src/desk/index.ts';
import { fail } from '../../../src/units/index.ts';
import { hashes, plans } from './records.ts';

const [hash = ''] = hashes;
const home: ShelfRecord = { kind: 'ensemble', value: newEnsemble(firstEnsemble, '') };
const piece: ShelfRecord = {
  kind: 'piece',
  value: newPiece(firstEnsemble, hash, { file: 'a', found: 'A' }),
};
const key = `piece:${pieceId(firstEnsemble, hash)}`;

/** A port whose disk is full as long as it is told so; windows on it hear of each other. */
const disk = () => {
  const inner = memoryShelf();
  const ears: ((removed: readonly string[]) => void)[] = [];
  const state = { full: false };
  const port = (): ShelfPort => {
    const mine: { ear: ((removed: readonly string[]) => void) | null } = { ear: null };
    const others = (removed: readonly string[]): void =>
      ears.forEach((ear) => {
        if (ear !== mine.ear) ear(removed);
      });
    return {
      ...inner,
      keep: async (records, scores) => {
        if (state.full) return fail('shelf-full', 'No room.');
        const kept = await inner.keep(records, scores);
        others([]);
        return kept;
      },
      remove: async (keys) => {
        const removed = await inner.remove(keys);
        others(keys);
        return removed;
      },
      watch: (told) => {
        mine.ear = told;
        ears.push(told);
      },
    };
  };
  return { state, port };
};

const window = async (port: ShelfPort, by: string): Promise<ShelfKeeper> => {
  const keeper = new ShelfKeeper(port, by, () => undefined);
  await keeper.start();
  return keeper;
};

const valueIn = (keeper: ShelfKeeper): Record<string, unknown> => ({
  ...keeper.state.records.get(key)?.value,
});

it('what is changed counts at once, and stands there for the next window', async () => {
  const { port } = disk();
  const keeper = await window(port(), 'x');
  keeper.put([home, piece], plans);
  keeper.change(key, { title: 'Ours' });
  expect(valueIn(keeper)['title']).toBe('Ours');
  expect(keeper.state.unkept).toBe(true);
  await keeper.settled();
  expect(keeper.state).toMatchObject({ unkept: false, trouble: null });
  const next = await window(port(), 'y');
  expect(valueIn(next)['title']).toBe('Ours');
  expect(await next.score(hash)).toMatchObject({ ok: true, value: plans.get(hash) });
});

it('two windows that change at the same time lose nothing', async () => {
  const { port } = disk();
  const one = await window(port(), 'x');
  one.put([home, piece], plans);
  await one.settled();
  const two = await window(port(), 'y');
  for (let i = 0; i < 20; i += 1) {
    one.change(key, { octaves: { [`P${2 * i}`]: 1 } });
    two.change(key, { octaves: { [`P${2 * i + 1}`]: -1 } });
    if (i % 5 === 0) await Promise.all([one.settled(), two.settled()]);
  }
  one.change(key, { title: 'Ours' });
  two.change(key, { barShift: 4 });
  await Promise.all([one.settled(), two.settled()]);
  const third = await window(port(), 'z');
  const record = third.state.records.get(key);
  expect(record?.kind === 'piece' ? Object.keys(record.value.octaves) : []).toHaveLength(40);
  expect(valueIn(third)).toMatchObject({ title: 'Ours', barShift: 4 });
  for (const keeper of [one, two]) expect(valueIn(keeper)).toStrictEqual(valueIn(third));
});

it('a full disk is told; all stays in memory and is kept once there is room', async () => {
  const { port, state } = disk();
  const keeper = await window(port(), 'x');
  state.full = true;
  keeper.put([home, piece], plans);
  keeper.change(key, { title: 'Ours' });
  await keeper.settled();
  expect(keeper.state).toMatchObject({ unkept: true, trouble: { code: 'shelf-full' } });
  const content = await keeper.content(keeper.state.records.keys());
  expect(content.ok && content.value.scores.get(hash)).toStrictEqual(plans.get(hash));
  state.full = false;
  keeper.again();
  await keeper.settled();
  expect(keeper.state).toMatchObject({ unkept: false, trouble: null });
  expect(valueIn(await window(port(), 'y'))['title']).toBe('Ours');
});

it('what is removed is gone in every window, score and all, and can be put back whole', async () => {
  const { port } = disk();
  const one = await window(port(), 'x');
  one.put([home, piece], plans);
  await one.settled();
  const two = await window(port(), 'y');
  const removed = await one.remove(keysOfEnsemble(one.state.records, firstEnsemble));
  if (!removed.ok) throw new Error(removed.error.message);
  expect(two.state.records.size).toBe(0);
  expect(await two.score(hash)).toMatchObject({ ok: true, value: null });
  expect(two.change(key, { title: 'Late' })).toBe(false);
  one.put(removed.value.records.values(), removed.value.scores);
  await one.settled();
  const next = await window(port(), 'z');
  expect(next.state.records.size).toBe(2);
  expect(await next.score(hash)).toMatchObject({ ok: true, value: plans.get(hash) });
});

it('a damaged record is told and left where it is; all else is there', async () => {
  const port = memoryShelf();
  const broken = { format: 'levare.piece/1', id: 'own.x', title: 'half' };
  await port.keep(
    new Map<string, Record<string, unknown>>([
      ['piece:own.x', broken],
      ['ensemble:own', home.value],
    ]),
    new Map(),
  );
  const keeper = await window(port, 'x');
  expect(keeper.state.damaged.map(({ code }) => code)).toStrictEqual(['shelf-record-damaged']);
  expect([...keeper.state.records.keys()]).toStrictEqual(['ensemble:own']);
  keeper.change('ensemble:own', { name: 'Trio' });
  await keeper.settled();
  const raw = await port.load();
  expect(raw.ok && raw.value).toContain(broken);
});
