/** What stands in the demo's XML, read with regular expressions so that the checks owe nothing to the reader. */

/** Times and lengths in 1/48 of a whole note; `midi` is the sounding pitch. */
export interface Struck {
  readonly at: number;
  readonly length: number;
  readonly midi: number;
}

export interface Bar {
  readonly number: number;
  readonly start: number;
  readonly length: number;
  /** What the time signature asks for. */
  readonly full: number;
  readonly quartersInBar: number;
  readonly xml: string;
}

export interface Part {
  readonly bars: readonly Bar[];
  readonly notes: readonly Struck[];
}

const number = (xml: string, pattern: RegExp): number | null => {
  const found = pattern.exec(xml)?.[1];
  return found === undefined ? null : Number(found);
};

const degrees: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** The demo writes 12 divisions to a quarter, hence 48 to a whole note; quarters are its only beat unit. */
export const readPart = (score: string, id: string): Part => {
  const body = new RegExp(`<part id="${id}">([^]*?)</part>`).exec(score)?.[1] ?? '';
  const shift = number(body, /<chromatic>(-?\d+)</) ?? 0;
  const bars: Bar[] = [];
  const notes: Struck[] = [];
  let now = 0;
  let beats = 0;
  for (const found of body.matchAll(/<measure number="(\d+)"[^>]*>([^]*?)<\/measure>/g)) {
    const xml = found[2] ?? '';
    const start = now;
    beats = number(xml, /<beats>(\d+)</) ?? beats;
    for (const note of xml.matchAll(/<note>([^]*?)<\/note>/g)) {
      const inside = note[1] ?? '';
      const length = number(inside, /<duration>(\d+)</) ?? 0;
      const step = /<step>([A-G])</.exec(inside)?.[1];
      const last = notes.at(-1);
      if (inside.includes('<tie type="stop"/>') && last !== undefined) {
        notes[notes.length - 1] = { ...last, length: last.length + length };
      } else if (step !== undefined) {
        const octave = number(inside, /<octave>(\d+)</) ?? 0;
        const alter = number(inside, /<alter>(-?\d+)</) ?? 0;
        notes.push({ at: now, length, midi: 12 * (octave + 1) + (degrees[step] ?? 0) + alter + shift });
      }
      now += length;
    }
    const full = beats * 12;
    bars.push({ number: Number(found[1]), start, length: now - start, full, quartersInBar: beats, xml });
  }
  return { bars, notes };
};

/** The time of a bar's beat, both as printed: `at(part, 12, 3.5)` is the second eighth of beat 3. */
export const at = (part: Part, bar: number, beat: number): number => {
  const found = part.bars.find((one) => one.number === bar);
  if (found === undefined) throw new Error(`no bar ${bar}`);
  const missing = bar === 0 ? found.full - found.length : 0;
  return found.start + (beat - 1) * 12 - missing;
};

const fractions: Readonly<Record<number, string>> = { 3: '+1/4', 4: '+1/3', 6: '+1/2', 8: '+2/3', 9: '+3/4' };

/** A time as bar and beat in words. */
export const place = (part: Part, time: number): { bar: number; beat: string } => {
  const bar = part.bars.findLast((one) => one.start <= time);
  if (bar === undefined) throw new Error(`nothing at ${time}`);
  const since = time - bar.start;
  return { bar: bar.number, beat: `${Math.floor(since / 12) + 1}${fractions[since % 12] ?? ''}` };
};

/** Who strikes at each step of a grid: each seam as the README's tables write it, and how often each plays alone. */
export const readSeams = (flute: Part, clarinet: Part, from: number, to: number, step: number) => {
  const strikes = (part: Part, time: number): boolean => part.notes.some((note) => note.at === time);
  const rows: string[] = [];
  const alone = { flute: 0, clarinet: 0, gaps: 0 };
  let carrier = '';
  let joint: number | null = null;
  for (let time = from; time <= to; time += step) {
    const f = strikes(flute, time);
    const c = strikes(clarinet, time);
    if (!f && !c) alone.gaps += 1;
    if (f && c) joint = time;
    if (f === c) continue;
    const who = f ? 'flute' : 'clarinet';
    alone[who] += 1;
    if (carrier !== '' && who !== carrier) {
      const { bar, beat } = place(flute, joint ?? time);
      rows.push(`| ${bar} | ${beat} | ${who} | ${joint === null ? 'clean' : 'joined'} |`);
    }
    carrier = who;
    joint = null;
  }
  return { rows, alone };
};
