/**
 * A score on which the engraver never comes back, breaks or fills the memory: a plain problem after a stated time, the
 * program lives, and the next score is engraved. The rule is our own; no outside source.
 */
import { setTimeout as pause } from 'node:timers/promises';
import { afterEach, describe, expect, it } from 'vitest';
import { engravingLimit } from '../../src/desk/sheet.ts';
import { guardedEngraver, type EngravingThread } from '../../src/host/guardedEngraver.ts';
import { nodeEngraver, type NodeEngraver } from '../../src/host/node/engraver.ts';
import { ok } from '../../src/units/index.ts';

const program = new URL('./engraver-stub.mjs', import.meta.url);
const options = { staff: 7, width: 180 };

let engraver: NodeEngraver | null = null;
afterEach(async () => {
  await engraver?.close();
  engraver = null;
});

/** Milliseconds: far more than the stub needs to start and answer, far less than the tests may take. */
const limit = 3000;
const code = async (musicXml: string): Promise<string> => {
  engraver ??= nodeEngraver({ limit, program, memory: 40 });
  const result = await engraver.engrave(musicXml, options);
  return result.ok ? 'engraved' : `${result.error.code}: ${result.error.message}`;
};

const timeout = 'engraving-timeout: Engraving took longer than 3 s and was ended. Try fewer bars.';
const failed = 'engraving-failed: The engraver broke on this passage. Try fewer bars or parts.';

describe('on Node', () => {
  it.each([
    ['loop', timeout],
    ['loop in the library', timeout],
    ['throw', failed],
    ['exit', failed],
    ['fill the memory', failed],
    ['nonsense', failed],
  ])('"%s" ends in a plain problem, and the next score is engraved', async (deed, told) => {
    expect(await code('a score')).toBe('engraved');
    expect(await code(deed)).toBe(told);
    expect(await code('a score')).toBe('engraved');
  });

  it('a thread that breaks when it is idle troubles nobody', async () => {
    expect(await code('throw later')).toBe('engraved');
    await pause(300);
    expect(await code('a score')).toBe('engraved');
  });

  it('scores asked for at once wait for each other, and each has its own time', async () => {
    expect(await Promise.all(['loop', 'a score', 'exit', 'a score'].map(code))).toEqual([
      timeout,
      'engraved',
      failed,
      'engraved',
    ]);
  });

  it('a thread that is not there cannot be started, and that is said', async () => {
    engraver = nodeEngraver({ limit, program: new URL('./no-such-file.mjs', import.meta.url) });
    expect(await code('a score')).toBe('engraving-failed: The engraver could not be started.');
    expect(await code('a score')).toBe('engraving-failed: The engraver could not be started.');
  });
});

describe('whatever the thread', () => {
  const never = new Promise<never>(() => undefined);
  const thread = (more: Partial<EngravingThread>): EngravingThread => ({
    ready: Promise.resolve(),
    engrave: () => Promise.resolve(ok({ pictures: [], musicFont: { family: 'A', woff2: new Uint8Array() } })),
    gone: never,
    end: () => Promise.resolve(),
    ...more,
  });

  it('one that never gets ready is ended, and the next one serves', async () => {
    let ended = 0;
    const stuck = thread({ ready: never, end: () => Promise.resolve((ended += 1)) });
    const threads = [stuck, thread({})];
    const guarded = guardedEngraver('stub', () => threads.shift() ?? stuck, { startLimit: 30 });
    const first = await guarded.engrave('', options);
    expect(first.ok ? '' : first.error.message).toBe(
      'Starting the engraver took longer than 1 s and was ended. Try again when the computer is less busy.',
    );
    expect(ended).toBe(1);
    expect((await guarded.engrave('', options)).ok).toBe(true);
  });

  it('one that cannot be made at all is told by each score', async () => {
    const guarded = guardedEngraver('stub', () => {
      throw new Error('no threads here');
    });
    guarded.warm();
    const result = await guarded.engrave('', options);
    expect(result.ok ? '' : result.error.code).toBe('engraving-failed');
  });

  it('is given time by the size of its score', async () => {
    const asked: number[] = [];
    const guarded = guardedEngraver('stub', () => thread({}), {
      limit: (characters) => {
        asked.push(characters);
        return 1000;
      },
    });
    await guarded.engrave('12345', options);
    expect(asked).toEqual([5]);
    // As documented at engravingLimit: 30 s, 30 s more a million characters, ten minutes at most.
    expect([0, 1_000_000, 2_500_000, 1e9].map(engravingLimit)).toEqual([30_000, 60_000, 105_000, 600_000]);
  });
});
