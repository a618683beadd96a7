/**
 * One even line of eighths in four parts, in 4/4, of any length, written down in each format by hand; all hold the same
 * notes, and a slur over the first half of each bar (but MIDI, which knows none).
 */
const steps = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
const perBar = 8;
const parts = 4;

/** The nth note of a part: a step and an octave on the white keys, up and down over two octaves. */
const noteAt = (part, n) => {
  const turn = (n * (part + 1)) % 28;
  const height = turn < 14 ? turn : 28 - turn;
  return { step: steps[height % 7], octave: 5 - part + Math.floor(height / 7) };
};
/** How many bars hold so many notes. */
export const barsOf = (notes) => Math.max(1, Math.round(notes / (perBar * parts)));
export const notesIn = (bars) => bars * perBar * parts;

const range = (count) => Array.from({ length: count }, (_, index) => index);
const inBar = (part, bar) => range(perBar).map((n) => noteAt(part, bar * perBar + n));
const slurred = (n) => (n === 0 ? 'start' : n === 3 ? 'stop' : null);

const musicxml = (bars) => {
  const note = ({ step, octave }, n) =>
    `<note><pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type>${
      slurred(n) === null ? '' : `<notations><slur type="${slurred(n)}" number="1"/></notations>`
    }</note>`;
  const measure = (part, bar) =>
    `<measure number="${bar + 1}">${
      bar === 0
        ? '<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>'
        : ''
    }${inBar(part, bar).map(note).join('')}</measure>`;
  return [
    '<score-partwise version="4.0"><part-list>',
    ...range(parts).map(
      (p) => `<score-part id="P${p + 1}"><part-name>Part ${p + 1}</part-name></score-part>`,
    ),
    '</part-list>',
    ...range(parts).map(
      (p) =>
        `<part id="P${p + 1}">\n${range(bars)
          .map((bar) => measure(p, bar))
          .join('\n')}</part>`,
    ),
    '</score-partwise>',
  ].join('\n');
};

const mei = (bars) => {
  const note = ({ step, octave }) => `<note pname="${step.toLowerCase()}" oct="${octave}" dur="8"/>`;
  const slur = (p) => `<slur staff="${p + 1}" tstamp="1" tstamp2="0m+2.5"/>`;
  const measure = (bar) =>
    `<measure n="${bar + 1}">${range(parts)
      .map((p) => `<staff n="${p + 1}"><layer n="1">${inBar(p, bar).map(note).join('')}</layer></staff>`)
      .join('')}${range(parts).map(slur).join('')}</measure>`;
  return [
    '<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1">',
    '<meiHead><fileDesc><titleStmt><title>Even</title></titleStmt><pubStmt/></fileDesc></meiHead>',
    '<music><body><mdiv><score><scoreDef meter.count="4" meter.unit="4"><staffGrp>',
    ...range(parts).map(
      (p) => `<staffDef n="${p + 1}" lines="5" clef.shape="G" clef.line="2" label="Part ${p + 1}"/>`,
    ),
    '</staffGrp></scoreDef><section>',
    ...range(bars).map(measure),
    '</section></score></mdiv></body></music></mei>',
  ].join('\n');
};

const kern = (bars) => {
  const pitch = ({ step, octave }) =>
    octave >= 4 ? step.toLowerCase().repeat(octave - 3) : step.repeat(4 - octave);
  const note = (n) => (one) => {
    const sign = slurred(n);
    return `${sign === 'start' ? '(' : ''}8${pitch(one)}${sign === 'stop' ? ')' : ''}`;
  };
  // The first column is the lowest part.
  const low = range(parts).toReversed();
  const all = (text) =>
    range(parts)
      .map(() => text)
      .join('\t');
  const lines = [all('**kern'), all('*M4/4')];
  for (let bar = 0; bar < bars; bar += 1) {
    lines.push(all(`=${bar + 1}`));
    const columns = low.map((p) => inBar(p, bar));
    for (let n = 0; n < perBar; n += 1) lines.push(columns.map((column) => note(n)(column[n])).join('\t'));
  }
  return [...lines, all('=='), all('*-'), ''].join('\n');
};

const abc = (bars) => {
  const pitch = ({ step, octave }) =>
    octave >= 5 ? step.toLowerCase() + "'".repeat(octave - 5) : step + ','.repeat(4 - octave);
  const note = (one, n) =>
    `${slurred(n) === 'start' ? '(' : ''}${pitch(one)}${slurred(n) === 'stop' ? ')' : ''}${n === 3 ? ' ' : ''}`;
  const measure = (part) => (bar) => `${inBar(part, bar).map(note).join('')}|`;
  const lines = ['X:1', 'T:Even', 'M:4/4', 'L:1/8', 'K:C'];
  for (let from = 0; from < bars; from += 4) {
    const line = range(Math.min(4, bars - from)).map((n) => from + n);
    for (let p = 0; p < parts; p += 1) lines.push(`[V:${p + 1}] ${line.map(measure(p)).join('')}`);
  }
  return `${lines.join('\n')}\n`;
};

/** Standard MIDI Files 1.0, format 1, 2 ticks to the quarter: a track of metre and one for each part. */
const midi = (bars) => {
  const text = (name) => [...name].map((letter) => letter.charCodeAt(0));
  const long = (size) => [size >>> 24, (size >>> 16) & 255, (size >>> 8) & 255, size & 255];
  const chunk = (name, data) => [text(name), long(data.length), data].map((piece) => Uint8Array.from(piece));
  const key = ({ step, octave }) => 12 * (octave + 1) + [0, 2, 4, 5, 7, 9, 11][steps.indexOf(step)];
  const end = [0, 0xff, 0x2f, 0];
  const track = (p) => {
    const data = [];
    for (let n = 0; n < bars * perBar; n += 1) {
      const sounding = key(noteAt(p, n));
      data.push(0, 0x90 + p, sounding, 64, 1, 0x80 + p, sounding, 0);
    }
    return chunk('MTrk', data.concat(end));
  };
  const pieces = [
    chunk('MThd', [0, 1, 0, parts + 1, 0, 2]),
    chunk('MTrk', [0, 0xff, 0x58, 4, 4, 2, 24, 8, ...end]),
    ...range(parts).map(track),
  ];
  return new Uint8Array(Buffer.concat(pieces.flat()));
};

const encoded = (write) => (bars) => new TextEncoder().encode(write(bars));

/** Each format's bytes of so many bars. */
export const evenLine = {
  MusicXML: encoded(musicxml),
  MEI: encoded(mei),
  'Humdrum kern': encoded(kern),
  ABC: encoded(abc),
  MIDI: midi,
};
