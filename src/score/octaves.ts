/**
 * Instruments that by custom sound an octave away from what is written. Where a part's file says nothing (no
 * transposition, no clef with an 8), the player has to be asked: recorders are printed both ways. Which instruments
 * these are is common practice, no source.
 */
import { beats, F, fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import type { Part, Score, Transposition } from './model.ts';

interface Instrument {
  /** In a sentence, with its article. */
  readonly name: string;
  /** Octaves from written to sounding. */
  readonly octaves: number;
  readonly names: RegExp;
  /** Standard sound ids of MusicXML 4.0 (sounds.xml) that mean it. */
  readonly sounds: readonly string[];
}

/** Recorder in the languages of the prints: the family, to which a size is added in front or behind. */
const recorder = String.raw`(recorders?|block ?floten?|flutes? a bec|flaut[oi] dolc[ei]|flauta[s]? (de pico|dulce)|blokfluit)`;
const sized = (sizes: string, extra = ''): RegExp =>
  new RegExp(
    String.raw`\b(${sizes})[ -]*${recorder}|${recorder}[ -]*(in )?[(]?(${sizes})\b${extra === '' ? '' : `|${extra}`}`,
  );

/** Longer names first: a great bass recorder is also called a bass, a contrabassoon is no contrabass. */
const instruments: readonly Instrument[] = [
  {
    name: 'a sopranino recorder',
    octaves: 1,
    names: sized('sopranino|piccolo'),
    sounds: ['wind.flutes.recorder.sopranino'],
  },
  {
    name: 'a great bass or contrabass recorder',
    octaves: 1,
    names: sized(
      'great ?bass|gross ?bass|c-?bass|contra ?bass|kontra ?bass|sub ?bass|grande basse|contrebasse|gran ?basso|contrabbasso',
    ),
    sounds: ['wind.flutes.recorder.contrabass'],
  },
  {
    name: 'a bass recorder',
    octaves: 1,
    names: sized('bass|bas|basse|basso|f-?bass'),
    sounds: ['wind.flutes.recorder.bass'],
  },
  {
    name: 'a descant recorder',
    octaves: 1,
    names: sized('descant|soprano?|sopran|diskant|sopraan', String.raw`\bdescant rec\b`),
    sounds: ['wind.flutes.recorder.descant', 'wind.flutes.recorder.soprano'],
  },
  {
    name: 'a piccolo',
    octaves: 1,
    names:
      /\b(piccolos?|flauto piccolo|ottavino|petite flute|kleine flote|pikkolo(flote)?|piccoloflote)\b(?! (trumpet|clarinet))/,
    sounds: ['wind.flutes.flute.piccolo', 'wind.flutes.piccolo'],
  },
  {
    name: 'a contrabassoon',
    octaves: -1,
    names: /\b(contra ?bassoon|double bassoon|kontra ?fagott|contra ?fagott[oi]?|contre ?basson)\b/,
    sounds: ['wind.reed.contrabassoon'],
  },
  {
    name: 'a double bass',
    octaves: -1,
    names:
      /\b(double ?bass(es)?|contra ?bass(es|o|i)?|contrabbass[oi]|kontra ?bass|contrebasses?|string bass|violone)\b(?! (clarinet|recorder|flute|tuba|trombone|sax))/,
    sounds: ['strings.contrabass'],
  },
  {
    name: 'a guitar',
    octaves: -1,
    names: /\b(guitars?|gitarren?|guitares?|chitarr[ae]|guitarras?|gitaar)\b/,
    sounds: [
      'pluck.guitar',
      'pluck.guitar.acoustic',
      'pluck.guitar.electric',
      'pluck.guitar.nylon-string',
      'pluck.guitar.steel-string',
    ],
  },
];

/** A tenor sings an octave lower only where the clef is a treble clef. */
const tenor: Instrument = {
  name: 'a tenor voice in the treble clef',
  octaves: -1,
  names: /^(tenor[ei]?s?|tenore|tenors?)( ?(i+|[12]|solo|voice))*\.?$/,
  sounds: ['voice.tenor'],
};

const plain = (name: string): string =>
  name
    .toLowerCase()
    .replace(/\u00df/g, 'ss')
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/[\s_.]+/g, ' ')
    .trim();

const instrumentOf = (part: Part): Instrument | undefined => {
  const name = plain(part.name);
  const clef = part.clefs[0];
  const trebleClef = clef === undefined || clef.sign === 'G';
  const candidates = trebleClef ? [...instruments, tenor] : instruments;
  // What the part is called on the page says more than the sound somebody picked for it.
  return (
    candidates.find(({ names }) => names.test(name)) ??
    candidates.find(({ sounds }) => part.sound !== '' && sounds.includes(part.sound))
  );
};

/** Whether the part says at its beginning, by transposition or by clef, how it sounds. */
const isMarked = (part: Part): boolean => {
  const clef = part.clefs[0];
  return part.transpositions.some(({ at }) => F.isZero(at)) || (clef !== undefined && clef.octave !== 0);
};

/** "+1" or "-1". */
const signed = (octaves: number): string => (octaves > 0 ? `+${octaves}` : String(octaves));

/**
 * One assumption, code `octave-unmarked`, for each part whose instrument usually sounds an octave away and whose file
 * does not tell: it says how the part is read and how to say otherwise.
 */
export const octaveQuestions = (score: Score): readonly Problem[] =>
  score.parts.flatMap((part) => {
    const instrument = isMarked(part) ? undefined : instrumentOf(part);
    if (instrument === undefined) return [];
    const where = instrument.octaves > 0 ? 'higher' : 'lower';
    return [
      problem(
        'assumption',
        'octave-unmarked',
        `"${part.name === '' ? part.id : part.name}" looks like ${instrument.name}, which usually sounds an octave ${where} than written, but the score does not say so. It is read as sounding where it is written; if it sounds an octave ${where}, say --octave ${part.id}=${signed(instrument.octaves)}.`,
        { part: part.id },
      ),
    ];
  });

const moved = (part: Part, octaves: number): Part => {
  const start = beats(F.zero);
  const shift = ({ at, diatonic, chromatic }: Transposition): Transposition => ({
    at,
    diatonic: diatonic + 7 * octaves,
    chromatic: chromatic + 12 * octaves,
  });
  const told = part.transpositions.some(({ at }) => F.isZero(at));
  const transpositions = told
    ? part.transpositions
    : [{ at: start, diatonic: 0, chromatic: 0 }, ...part.transpositions];
  return {
    ...part,
    transpositions: transpositions.map(shift),
    notes: part.notes.map((note) =>
      note.midi === null ? note : { ...note, midi: note.midi + 12 * octaves },
    ),
  };
};

/**
 * The score with the named parts sounding that many octaves (whole numbers, -4 to 4) higher than they do; written
 * pitch stays. Errors: `part-unknown`, `octave-out-of-range`.
 */
export const withOctaves = (score: Score, octaves: Readonly<Record<string, number>>): Result<Score> => {
  const wishes = new Map(Object.entries(octaves));
  for (const [id, count] of wishes) {
    if (!score.parts.some((part) => part.id === id))
      return fail(
        'part-unknown',
        `The score has no part "${id}". Its parts are ${score.parts.map((part) => part.id).join(', ') || 'none'}.`,
      );
    if (!Number.isInteger(count) || Math.abs(count) > 4)
      return fail('octave-out-of-range', `Part ${id} can not sound ${count} octaves away: say -4 to 4.`, {
        part: id,
      });
  }
  if ([...wishes.values()].every((count) => count === 0)) return ok(score);
  const parts = score.parts.map((part) => {
    const count = wishes.get(part.id) ?? 0;
    return count === 0 ? part : moved(part, count);
  });
  return ok({ ...score, parts });
};
