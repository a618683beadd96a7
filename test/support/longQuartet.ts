/** A string quartet of as many bars as are asked for, as MusicXML 4.0: eighths and quarters, no two neighbouring bars alike. */

const names = ['Violin I', 'Violin II', 'Viola', 'Violoncello'] as const;
const clefs = [
  ['G', 2],
  ['G', 2],
  ['C', 3],
  ['F', 4],
] as const;
const octaves = [5, 4, 4, 3] as const;
const steps = ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const;

const note = (step: string, octave: number, length: 1 | 2): string =>
  `<note><pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>${length}</duration><voice>1</voice><type>${length === 1 ? 'eighth' : 'quarter'}</type></note>`;

const measure = (part: number, bar: number): string => {
  const [sign, line] = clefs[part] ?? clefs[0];
  const head =
    bar === 1
      ? `<attributes><divisions>2</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>${sign}</sign><line>${line}</line></clef></attributes>`
      : '';
  const notes = Array.from({ length: 4 }, (_, beat) => {
    const step = steps[(bar * (part + 2) + beat * 3) % steps.length] ?? 'C';
    const octave = octaves[part] ?? 4;
    return (bar + part + beat) % 2 === 0
      ? note(step, octave, 2)
      : note(step, octave, 1) + note(step, octave, 1);
  });
  return `<measure number="${bar}">${head}${notes.join('')}</measure>`;
};

export const longQuartet = (bars: number): string =>
  `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><work><work-title>Long quartet</work-title></work><part-list>${names
    .map((name, i) => `<score-part id="P${i + 1}"><part-name>${name}</part-name></score-part>`)
    .join('')}</part-list>${names
    .map(
      (_, part) =>
        `<part id="P${part + 1}">${Array.from({ length: bars }, (__, i) => measure(part, i + 1)).join('')}</part>`,
    )
    .join('')}</score-partwise>`;
