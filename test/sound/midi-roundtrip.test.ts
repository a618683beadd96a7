import fc from 'fast-check';
import { expect, it } from 'vitest';
import { constant, gradual, pace, steady, tempoMap } from '../../src/rhythm/tempo.ts';
import { metreText } from '../../src/score/metre.ts';
import { readMidi } from '../../src/score/read/midi.ts';
import { writeMidi } from '../../src/sound/midi.ts';
import { bpm, F, note } from '../../src/units/index.ts';
import { at, everyBeat, layBars, noteAt, timeline } from './midi-timelines.ts';

/** Quarters as players know them; rests fall anywhere in them. */
const cells = fc.constantFrom(
  ['1/4'],
  ['1/8', '1/8'],
  ['3/16', '1/16'],
  ['1/16', '3/16'],
  ['1/16', '1/16', '1/16', '1/16'],
  ['1/12', '1/12', '1/12'],
  ['1/6', '1/12'],
  ['1/20', '1/20', '1/20', '1/20', '1/20'],
  ['1/28', '1/28', '1/28', '1/28', '1/28', '1/28', '1/28'],
  ['1/8', '1/32', '1/32', '1/16'],
);
/** Bars of whole quarters, so that no tuplet lies across a bar line. */
const bars = fc.array(fc.constantFrom('4/4', '3/4', '6/8', '5/4', '2/2', '12/8'), {
  minLength: 2,
  maxLength: 8,
});

it('reads back the notes, bars, title, parts and programs that it wrote, and every click', () => {
  const line = fc.array(fc.tuple(cells, fc.integer({ min: 30, max: 100 }), fc.boolean()), {
    minLength: 1,
    maxLength: 30,
  });
  fc.assert(
    fc.property(bars, line, line, fc.integer({ min: 20, max: 300 }), (metres, first, second, tempo) => {
      const map = constant(pace(note(1, 4), bpm(F.fraction(tempo))));
      const laid = layBars(metres);
      const end = laid.reduce((sum, { length }) => F.add(sum, length), F.zero);
      const notes = [first, second].flatMap((part, k) => {
        let position = F.zero;
        return part.flatMap(([cell, midi, rest]) => {
          const whole = F.atMost(F.add(position, note(1, 4)), end);
          return cell.flatMap((length, n) => {
            const from = position;
            position = F.add(position, at(length));
            // Ends on fifths and sevenths are believed where some onset lies there too: the second note is never a rest.
            const silent = (rest && n !== 1) || !whole;
            return silent ? [] : [noteAt(map, `P${String(k)}`, F.format(from), length, midi + n)];
          });
        });
      });
      const clicks = everyBeat(map, laid, '1/8');
      const parts = [
        { id: 'P0', name: 'Hautbois d’amour', program: 69 },
        { id: 'P1', name: 'Fagott', program: null },
      ];
      const { bytes } = writeMidi(timeline(map, laid, clicks, notes), { title: 'Trio – Übung', parts });
      const result = readMidi(bytes);
      if (!result.ok) throw new Error(result.error.message);
      const { value: score } = result;
      expect(score.title).toBe('Trio – Übung');
      // A short first bar before a longer metre reads back as a pickup: its metre is assumed to be the next one.
      expect(score.bars.map(({ length }) => F.format(length))).toEqual(
        laid.map(({ length }) => F.format(length)),
      );
      const from = score.bars[0]?.pickup === true ? 1 : 0;
      expect(score.bars.slice(from).map(({ metre }) => metreText(metre))).toEqual(metres.slice(from));
      const heard = (part: string) =>
        notes
          .filter((event) => event.part === part)
          .map((event) => [F.format(event.at), F.format(event.length), event.midi]);
      for (const { id, name, program } of parts) {
        const wanted = heard(id);
        const found = score.parts.find((part) => part.name === name);
        expect(
          found?.notes.map(({ onset, duration, midi }) => [F.format(onset), F.format(duration), midi]) ?? [],
        ).toEqual(wanted);
        if (found !== undefined) expect(found.program).toBe(program);
      }
      const click = score.parts.find(({ name }) => name === 'click');
      expect(click?.notes.map(({ onset }) => F.format(onset))).toEqual(
        clicks.map((event) => F.format(event.at)),
      );
      expect(
        score.marks
          .filter(({ kind }) => kind === 'tempo')
          .map((mark) => (mark.kind === 'tempo' ? F.format(mark.perMinute) : '')),
      ).toEqual([String(tempo)]);
      expect(score.marks.filter(({ kind }) => kind === 'rehearsal').length).toBe(laid.length);
    }),
    { numRuns: 150, seed: 11 },
  );
});

it('reads one tempo where an hour of corrected rounding was written', () => {
  const map = constant(pace(note(1, 4), bpm(F.fraction(90))));
  const laid = layBars(Array.from({ length: 1350 }, () => '4/4'));
  const result = readMidi(
    writeMidi(timeline(map, laid, everyBeat(map, laid, '1/4')), { title: '', parts: [] }).bytes,
  );
  if (!result.ok) throw new Error(result.error.message);
  expect(result.value.marks.filter(({ kind }) => kind === 'tempo').length).toBe(1);
  expect(result.problems.map(({ code }) => code)).toContain('tempo-corrections');
});

it('reads the steps of a gradual tempo as steps', () => {
  const map = tempoMap([
    steady(pace(note(1, 4), bpm(F.fraction(100))), note(1)),
    gradual(pace(note(1, 4), bpm(F.fraction(100))), pace(note(1, 4), bpm(F.fraction(50))), note(1)),
    steady(pace(note(1, 4), bpm(F.fraction(50)))),
  ]);
  const laid = layBars(['4/4', '4/4', '4/4']);
  const result = readMidi(
    writeMidi(timeline(map, laid, everyBeat(map, laid, '1/4')), { title: '', parts: [] }).bytes,
  );
  if (!result.ok) throw new Error(result.error.message);
  const tempi = result.value.marks.flatMap((mark) =>
    mark.kind === 'tempo' ? [[F.format(mark.at), Math.round(F.toNumber(mark.perMinute))]] : [],
  );
  // Mean tempo of each quarter: pace falls linearly from 2.4 to 4.8 s a whole note: 60 / mean quarter of 0.675, 0.825, 0.975, 1.125 s.
  expect(tempi).toEqual([
    ['0', 100],
    ['1', 89],
    ['5/4', 73],
    ['3/2', 62],
    ['7/4', 53],
    ['2', 50],
  ]);
});
