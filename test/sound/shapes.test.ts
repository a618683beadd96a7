import { describe, expect, it } from 'vitest';
import { readScore } from '../../src/score/read/recognise.ts';
import { noteShapes } from '../../src/sound/parts/shapes.ts';

/** A part of quarters, each with what stands in front of it and within it. */
const score = (...notes: readonly { readonly before?: string; readonly notations?: string }[]) => {
  const xml = `<?xml version="1.0"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>${notes.length}</beats><beat-type>4</beat-type></time></attributes>
${notes.map(({ before = '', notations = '' }) => `${before}<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type>${notations === '' ? '' : `<notations>${notations}</notations>`}</note>`).join('\n')}
</measure></part></score-partwise>`;
  const read = readScore(new TextEncoder().encode(xml));
  if (!read.ok) throw new Error(read.error.message);
  const shapes = noteShapes(read.value.parts);
  return (read.value.parts[0]?.notes ?? []).map(({ id }) => shapes.get(id));
};
const dynamics = (name: string): string =>
  `<direction><direction-type><dynamics><${name}/></dynamics></direction-type></direction>`;
const slur = (type: string): string => `<slur type="${type}" number="1"/>`;

describe('what is written on the notes', () => {
  it('binds under slurs up to the last note, and not beyond', () => {
    const found = score({ notations: slur('start') }, {}, { notations: slur('stop') }, {});
    expect(found.map((shape) => shape?.slurred)).toEqual([true, true, false, false]);
  });

  it('is not bound by a slur that never ends, and not staccato by itself', () => {
    const open = score({ notations: slur('start') }, {}, {});
    expect(open.map((shape) => shape?.slurred)).toEqual([false, false, false]);
    expect(open.map((shape) => shape?.share)).toEqual([1, 1, 1]);
  });

  // Staccato: 0.40 of the length (Bresin and Battel 2000, read).
  it('shortens staccato, also under a slur', () => {
    const [first, second] = score(
      { notations: `${slur('start')}<articulations><staccato/></articulations>` },
      { notations: `${slur('stop')}<articulations><accent/></articulations>` },
    );
    expect(first).toEqual({ share: 0.4, slurred: false, level: 0 });
    expect(second).toEqual({ share: 1, slurred: false, level: 3 });
  });

  it('has dynamics from where they stand, and sudden ones for one note', () => {
    const levels = score(
      {},
      { before: dynamics('p') },
      {},
      { before: dynamics('sf') },
      {},
      { before: dynamics('ff') },
    ).map((shape) => shape?.level ?? NaN);
    const [plain, soft, still, sudden, after, loud] = levels;
    expect(plain).toBe(0);
    expect(soft).toBeLessThan(0);
    expect(still).toBe(soft);
    expect(sudden).toBeGreaterThan(0);
    expect(after).toBe(soft);
    expect(loud).toBeGreaterThan(2);
  });
});
