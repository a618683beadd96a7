/** The desk's own thread: scores are read and drills worked out here, so that the page never has to wait. */
import {
  asInScore,
  holdPiece,
  liveDrill,
  livePlaces,
  makeDrill,
  makePageStretch,
  makeStretch,
  overviewOf,
  readRequest,
  touchedClick,
  type HeldPiece,
  type LiveOptions,
  type LivePlaces,
  type Overview,
  type PieceSettings,
  type RequestTexts,
  type WordSet,
  type WorkedPiece,
} from '../../desk/index.ts';
import { fail, ok, type Problem, type Result } from '../../units/index.ts';
import { answering } from './calls.ts';
import type { DeskCalls } from './desk.ts';
import { browserEngraver } from './engraver.ts';
import { gathered } from './gathered.ts';
import { browserPrint } from './print.ts';
import { browserWords } from './words.ts';

const engraver = browserEngraver();

let held: HeldPiece | null = null;
/** The drills that were worked out last, by their texts: one may still play while another is made. */
let known: readonly { readonly key: string; readonly piece: WorkedPiece }[] = [];
let places: LivePlaces | null = null;
let settings: PieceSettings = asInScore;

const noPiece = (): Result<never> => fail('no-piece', 'No score is open.');

const workedOut = (texts: RequestTexts, rate: number, sound: LiveOptions): Result<WorkedPiece> => {
  if (held === null) return noPiece();
  const request = readRequest(texts);
  return request.ok ? liveDrill(held, request.value, rate, sound) : request;
};

const remember = (texts: RequestTexts, piece: WorkedPiece): void => {
  const key = JSON.stringify(texts);
  known = [{ key, piece }, ...known.filter((one) => one.key !== key)].slice(0, 2);
};

/** Words that do not come are no reason to withhold the click. */
const wordsIn = async (
  language: string | null,
): Promise<{ readonly words: WordSet | null; readonly lacking: readonly Problem[] }> => {
  if (language === null) return { words: null, lacking: [] };
  const read = await browserWords.read(language);
  return read.ok
    ? { words: read.value, lacking: [] }
    : { words: null, lacking: [{ ...read.error, severity: 'note' }] };
};

/** A drill of which a page is wanted; nothing sounds, so that a low rate will do. */
const pageOf = (texts: RequestTexts): Result<WorkedPiece> => {
  const key = JSON.stringify(texts);
  const found = known.find((one) => one.key === key);
  if (found !== undefined) return ok(found.piece);
  const made = workedOut(texts, 8000, {});
  if (made.ok) remember(texts, made.value);
  return made;
};

/** Holds a score from now on; where it cannot be read, the one before stays. */
const hold = (bytes: Uint8Array, wanted: PieceSettings): Result<Overview> => {
  const piece = holdPiece(bytes, wanted);
  if (!piece.ok) return piece;
  held = piece.value;
  known = [];
  places = null;
  settings = wanted;
  return ok(overviewOf(piece.value.read));
};

answering<DeskCalls>({
  open: ({ bytes, settings: wanted }) => Promise.resolve(hold(bytes, wanted)),
  settings: (wanted) => Promise.resolve(held === null ? noPiece() : hold(held.bytes, wanted)),
  drill: async ({ texts, rate, sound: { spoken, ...sound } }) => {
    const { words, lacking } = await wordsIn(spoken);
    const result = workedOut(texts, rate, { ...sound, words });
    if (result.ok) remember(texts, result.value);
    return result.ok ? ok(result.value.live, [...result.problems, ...lacking]) : result;
  },
  places: () => {
    if (held === null) return Promise.resolve(noPiece());
    const found = livePlaces(held);
    places = found.ok ? found.value : null;
    return Promise.resolve(found.ok ? ok(found.value.list) : found);
  },
  screen: async ({ texts, first, last, options }) => {
    const page = pageOf(texts);
    if (!page.ok) return page;
    return makePageStretch(page.value.worked, { first, last }, options, engraver, places?.marks);
  },
  stretch: async ({ first, last, options }) =>
    held === null ? noPiece() : makeStretch(held, { first, last }, options, engraver),
  beat: ({ texts, barIndex, beat }) => {
    // Nothing sounds: a low rate saves time.
    const result = workedOut(texts, 8000, {});
    return Promise.resolve(result.ok ? touchedClick(result.value.worked, { barIndex, beat }) : result);
  },
  files: async ({ texts, names, sound, spoken, language }) => {
    if (held === null) return noPiece();
    const request = readRequest(texts);
    if (!request.ok) return request;
    if (names.some((name) => name.endsWith('.pdf')))
      return browserPrint({ bytes: held.bytes, settings, request: request.value, names, language });
    // Only there is the count spoken; a score that was opened meanwhile is not what was asked for.
    const { bytes } = held;
    const fitted = settings;
    const { words, lacking } = await wordsIn(names.includes('full.wav') ? spoken : null);
    const made = makeDrill(bytes, request.value, { ...sound, words, settings: fitted });
    if (!made.ok) return made;
    const files = made.value.files
      .filter(({ name }) => names.includes(name))
      .map(({ name, chunks }) => ({ name, bytes: gathered(chunks) }));
    return ok(files, lacking);
  },
});
