/** Players' own markings in a score: minded by the click, printed, kept on the shelf. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { asInScore, holdPiece, liveDrill, makeScreen, type MarkingText } from '../../src/desk/index.ts';
import { newMarking, readRecord } from '../../src/desk/shelf/records.ts';
import { nodeEngraver } from '../../src/host/node/engraver.ts';

const demo = readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml'));
const engraver = nodeEngraver();
afterAll(() => engraver.close());

const at = (bar: number, beat: string, more: Partial<MarkingText>): MarkingText => ({
  kind: 'words',
  part: '',
  bar,
  beat,
  text: '',
  time: null,
  note: '',
  ...more,
});

const drilled = (markings: readonly MarkingText[], bars = '10-17') => {
  const piece = holdPiece(demo, { ...asInScore, markings });
  if (!piece.ok) throw new Error(piece.error.message);
  const made = liveDrill(piece.value, { bars, click: 'every', countIn: 'none' }, 48_000);
  if (!made.ok) throw new Error(made.error.message);
  return { piece: piece.value, made: made.value, problems: made.problems };
};

const clicksIn = ({ made }: ReturnType<typeof drilled>, bar: string): number =>
  made.live.clicks.filter((click) => click.bar === bar).length;

const svgOf = async ({ made }: ReturnType<typeof drilled>): Promise<string> => {
  const screen = await makeScreen(made.worked, { staff: 7, width: 200 }, engraver);
  if (!screen.ok) throw new Error(screen.error.message);
  return screen.value.systems.map(({ svg }) => svg).join('');
};

describe('players’ own markings', () => {
  it('a ritardando silences the click as a written one does, until "a tempo"', () => {
    const plain = drilled([]);
    const rit = drilled([at(13, '3', { kind: 'rit' }), at(15, '1', { kind: 'a-tempo' })]);
    expect([12, 13, 14, 15].map((bar) => clicksIn(plain, String(bar)))).toStrictEqual([4, 4, 4, 4]);
    expect([12, 13, 14, 15].map((bar) => clicksIn(rit, String(bar)))).toStrictEqual([4, 2, 0, 4]);
    expect(
      rit.problems.some(({ code, message }) => code === 'click-silent' && message.includes('rit.')),
    ).toBe(true);
  });

  it('bowing, breath and caesura stand on the note that sounds there, in the part that is named', () => {
    const { piece } = drilled([
      at(10, '1', { kind: 'up-bow', part: 'P1' }),
      at(10, '2', { kind: 'breath', part: 'P1' }),
    ]);
    const [first, second] = piece.read.score.parts;
    const marks = (first?.written ?? [])
      .filter(({ bar, kind }) => bar === 10 && kind === 'note')
      .map(({ marks: { articulations, technical } }) => [
        ...articulations.filter((name) => name === 'breath-mark'),
        ...technical.map(({ name }) => name),
      ]);
    expect(marks.flat().sort()).toStrictEqual(['breath-mark', 'up-bow']);
    expect(marks[0]).toStrictEqual(['up-bow']);
    const other = (second?.written ?? []).filter(({ bar }) => bar === 10).map(({ marks: own }) => own);
    expect(other.some(({ articulations }) => articulations.includes('breath-mark'))).toBe(false);
    expect(other.flatMap(({ technical }) => technical)).toStrictEqual([]);
  });

  it('words are drawn in pencil, and nothing of how they are found again is left', async () => {
    const svg = await svgOf(drilled([at(11, '2', { text: 'with the viola' }), at(12, '1', { kind: 'rit' })]));
    expect(svg).toMatch(/<g class="own"[^>]*fill="#555"/);
    expect(svg).toContain('with the viola');
    expect(svg).not.toContain('\u2060');
    expect(await svgOf(drilled([]))).not.toContain('class="own"');
  });

  it('what the score does not have is passed over', () => {
    const { piece } = drilled([
      at(9000, '1', { kind: 'breath' }),
      at(10, '9', { kind: 'rit' }),
      at(10, '1', { kind: 'up-bow', part: 'P77' }),
      at(10, '1', { text: '  ' }),
    ]);
    expect(piece.read.score).toStrictEqual(drilled([]).piece.read.score);
  });

  it('are records of the shelf; one of another kind is damaged', () => {
    const record = newMarking('m1', 'own.abc', at(12, '2', { kind: 'cue', text: 'vla' }));
    const read = readRecord(JSON.parse(JSON.stringify(record)));
    expect(read.ok && read.value).toStrictEqual({ kind: 'marking', value: record });
    expect(readRecord({ ...record, kind: 'doodle' })).toMatchObject({ ok: false });
    // A marking of a later version is kept as it is.
    expect(readRecord({ ...record, format: 'levare.marking/3' })).toMatchObject({
      ok: true,
      value: { kind: 'strange' },
    });
  });
});
