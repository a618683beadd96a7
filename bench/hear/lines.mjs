/** Seeded music for the bench, written as MusicXML 4.0 (partwise): random lines in several metres and textures. */
import { instruments } from './instruments.mjs';

/** Divisions a quarter. */
const divisions = 12;
const metres = {
  '4/4': { beats: 4, type: 4, beat: 12 },
  '3/4': { beats: 3, type: 4, beat: 12 },
  '2/4': { beats: 2, type: 4, beat: 12 },
  '6/8': { beats: 6, type: 8, beat: 18 },
};
/** How one beat is filled, in divisions; negative: a rest. */
const cells = {
  12: [[12], [12], [6, 6], [6, 6], [3, 3, 3, 3], [9, 3], [6, 3, 3], [4, 4, 4], [-6, 6]],
  18: [[18], [12, 6], [12, 6], [6, 6, 6], [6, 6, 6], [9, 3, 6], [-6, 6, 6]],
};
const names = { 1: '32nd', 3: '16th', 6: 'eighth', 12: 'quarter', 24: 'half' };
const steps = ['C', 'C', 'D', 'D', 'E', 'F', 'F', 'G', 'G', 'A', 'A', 'B'];
const alters = [0, 1, 0, 1, 0, 0, 1, 0, 1, 0, 1, 0];
const major = [0, 2, 4, 5, 7, 9, 11];

/** The pitch `degree` steps of a major scale above its tonic. */
const scale = (tonic, degree) => tonic + 12 * Math.floor(degree / 7) + major[((degree % 7) + 7) % 7];

const written = (duration) => {
  // Longest undotted or dotted value that is this long; triplet eighths are the 4s.
  if (duration === 4)
    return '<type>eighth</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>';
  for (const [value, name] of Object.entries(names)) {
    if (Number(value) === duration) return `<type>${name}</type>`;
    if (Number(value) * 1.5 === duration) return `<type>${name}</type><dot/>`;
  }
  throw new Error(`No note value is ${duration} divisions long.`);
};

/** One note or rest; `marks` is what stands in its notations. */
const note = ({ midi, duration, marks }) =>
  midi === null
    ? `<note><rest/><duration>${duration}</duration><voice>1</voice>${written(duration)}</note>`
    : `<note><pitch><step>${steps[midi % 12]}</step>${alters[midi % 12] ? '<alter>1</alter>' : ''}` +
      `<octave>${Math.floor(midi / 12) - 1}</octave></pitch><duration>${duration}</duration><voice>1</voice>${written(duration)}` +
      `${marks.length === 0 ? '' : `<notations>${marks.join('')}</notations>`}</note>`;

/**
 * Writes slurs over two to four notes of a bar, and trills on long notes. Answers, for each sounding note, whether it
 * is slurred to the next and whether it is trilled.
 */
const mark = (notes, { slurred, trilled }, random) => {
  const sounding = notes.filter((one) => one.midi !== null);
  const played = sounding.map(() => ({ slurredToNext: false, trill: false }));
  for (let k = 0; slurred && k + 1 < sounding.length;) {
    const end = Math.min(sounding.length - 1, k + random.pick([1, 1, 2, 3]));
    // A slur goes over no rest.
    const unbroken = notes.indexOf(sounding[end]) - notes.indexOf(sounding[k]) === end - k;
    if (unbroken && random.chance(0.85)) {
      sounding[k].marks.push('<slur type="start" number="1"/>');
      sounding[end].marks.push('<slur type="stop" number="1"/>');
      for (let j = k; j < end; j += 1) played[j].slurredToNext = true;
    }
    k = end + 1;
  }
  sounding.forEach((one, k) => {
    if (!trilled || one.duration < 12 || !random.chance(0.4)) return;
    one.marks.push('<ornaments><trill-mark/></ornaments>');
    played[k].trill = true;
  });
  return played;
};

/** A bar's rhythm: a list of durations, negative for rests. */
const rhythm = (metre, texture, random) => {
  const { beat } = metre;
  const beats = metre.type === 8 ? metre.beats / 3 : metre.beats;
  const out = [];
  for (let b = 0; b < beats; b += 1) {
    if (texture === 'repeated')
      out.push(
        ...random.pick(
          beat === 12
            ? [
                [6, 6],
                [3, 3, 3, 3],
                [6, 6],
              ]
            : [[6, 6, 6]],
        ),
      );
    else if (texture === 'runs') out.push(...(beat === 12 ? [3, 3, 3, 3] : [3, 3, 3, 3, 3, 3]));
    else if (texture === 'long' && beat === 12 && b + 1 < beats && random.chance(0.5)) {
      out.push(24);
      b += 1;
    } else out.push(...random.pick(cells[beat]));
  }
  return out;
};

/**
 * A score. `voices` are instrument names; `texture` one of lines, chorale (one rhythm for all), unison, octave,
 * repeated, runs, long; `slurred` says by voice whether slurs are written. Answers the file's `text` and, by part id, the
 * `marks` on its notes in order.
 */
export const randomScore = ({ voices, metre, bars, texture, tempo, slurred, trilled }, random) => {
  const marks = {};
  const time = metres[metre];
  const tonic = 60 + random.pick([0, 2, 5, 7, -3]);
  const together = ['chorale', 'unison', 'octave'].includes(texture);
  const shared = Array.from({ length: bars }, () => rhythm(time, texture, random));
  const degrees = new Map();
  const parts = voices.map((name, v) => {
    const { low, high } = instruments[name];
    // Higher parts above lower ones, each within the middle of its instrument.
    const centre = Math.min(high - 10, Math.max(low + 8, 76 - 7 * v + (name === 'cello' ? -8 : 0)));
    let degree = Math.round(((centre - tonic) * 7) / 12);
    let kept = null;
    const dice = random.fork(`voice ${v}`);
    const unison = texture === 'unison' || texture === 'octave';
    const music = Array.from({ length: bars }, (_, b) => {
      const values = together ? shared[b] : rhythm(time, texture, dice);
      const notes = values.map((value, k) => {
        const sound = (midi) => ({ midi, duration: Math.abs(value), marks: [] });
        if (value < 0) return sound(null);
        if (unison && v > 0) {
          let midi = degrees.get(`${b}/${k}`);
          if (texture === 'octave') midi -= 12 * v;
          while (midi < low) midi += 12;
          while (midi > high) midi -= 12;
          return sound(midi);
        }
        if (!(texture === 'repeated' && kept !== null && dice.chance(0.75)))
          degree += dice.pick(texture === 'runs' ? [-1, 1, 1, -1, 2] : [-3, -2, -1, -1, 1, 1, 2, 3, 4]);
        kept = degree;
        let midi = scale(tonic, degree);
        const reach = texture === 'unison' ? 4 : 9;
        if (midi > Math.min(high, centre + reach)) degree -= 7;
        if (midi < Math.max(low, centre - reach)) degree += 7;
        midi = scale(tonic, degree);
        degrees.set(`${b}/${k}`, midi);
        return sound(midi);
      });
      const id = `P${v + 1}`;
      marks[id] = (marks[id] ?? []).concat(
        mark(notes, { slurred: slurred[v], trilled }, random.fork(`marks ${v}/${b}`)),
      );
      const head =
        b === 0
          ? `<attributes><divisions>${divisions}</divisions><key><fifths>0</fifths></key><time><beats>${time.beats}</beats>` +
            `<beat-type>${time.type}</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>` +
            (v === 0
              ? `<direction placement="above"><direction-type><metronome><beat-unit>quarter</beat-unit>${time.type === 8 ? '<beat-unit-dot/>' : ''}<per-minute>${tempo}</per-minute></metronome></direction-type></direction>`
              : '')
          : '';
      return `<measure number="${b + 1}">${head}${notes.map(note).join('')}</measure>`;
    });
    return `<part id="P${v + 1}">${music.join('\n')}</part>`;
  });
  const list = voices
    .map(
      (name, v) =>
        `<score-part id="P${v + 1}"><part-name>${name[0].toUpperCase()}${name.slice(1)} ${v + 1}</part-name></score-part>`,
    )
    .join('');
  const text =
    '<?xml version="1.0" encoding="UTF-8"?>\n' +
    `<score-partwise version="4.0"><work><work-title>Bench lines, ${texture}</work-title></work>` +
    `<part-list>${list}</part-list>\n${parts.join('\n')}\n</score-partwise>\n`;
  return { text, marks };
};
