/** From what a user points at to a score: a score file, the folder of a drill, or its drill.json. */
import { isDrillJson, parseDrill } from '../drill/format.ts';
import type { Drill } from '../drill/model.ts';
import { fail, ok, type Result } from '../units/index.ts';
import { markingsName, readMarkings } from './markingsFile.ts';
import type { ReadPort } from './ports.ts';
import type { Marking } from './shelf/formats.ts';

export interface Opened {
  /** The score's bytes. */
  readonly bytes: Uint8Array;
  /** The drill that was pointed at; null for a score. */
  readonly drill: Drill | null;
  /** What the players had written into the score when the drill was made. */
  readonly markings: readonly Marking[];
}

/** Larger files are no drills. */
const largestDrill = 1_000_000;

/** The JSON in a file that begins like JSON; undefined where it is none. */
const jsonIn = (bytes: Uint8Array): unknown => {
  if (bytes.length > largestDrill) return undefined;
  const text = new TextDecoder().decode(bytes);
  if (!/^\s*\{/.test(text)) return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};

/** A drill.json that is cut short or mistyped still names its format. */
const looksLikeDrill = (bytes: Uint8Array): boolean =>
  /^\s*\{[^]{0,200}"levare\.drill\//.test(new TextDecoder().decode(bytes.subarray(0, 400)));

const damaged = (): Result<never> =>
  fail('drill-damaged', 'The drill is damaged: its text is not JSON any more. It may have been cut short.');

/** The drill in these bytes; null where they are something else. */
const drillIn = (bytes: Uint8Array): Result<Drill> | null => {
  const json = jsonIn(bytes);
  if (json === undefined) return looksLikeDrill(bytes) ? damaged() : null;
  return isDrillJson(json) ? parseDrill(json) : null;
};

/** The markings that lie beside a drill; none where there is no such file. */
const markingsBeside = async (
  file: string,
  score: string,
  files: ReadPort,
): Promise<Result<readonly Marking[]>> => {
  const read = await files.read(files.beside(file, markingsName));
  if (!read.ok) return read.error.code === 'file-missing' ? ok([]) : read;
  return readMarkings(read.value, score);
};

/**
 * Opens a score, or a drill with the score that lies beside it. Whether the score is still the one that the drill was
 * made on is checked when the drill is made. Errors: those of `read`, `drill-damaged`, `format-newer`,
 * `folder-without-drill`, those of `readMarkings`.
 */
export const openPiece = async (path: string, files: ReadPort): Promise<Result<Opened>> => {
  const inFolder = await files.isFolder(path);
  const file = inFolder ? files.inside(path, 'drill.json') : path;
  const read = await files.read(file);
  if (!read.ok) {
    return inFolder && read.error.code === 'file-missing'
      ? fail(
          'folder-without-drill',
          `${path} is a folder, and there is no drill.json in it. Name a score file, or the folder of a drill.`,
        )
      : read;
  }
  const drill = drillIn(read.value);
  if (drill === null) return inFolder ? damaged() : ok({ bytes: read.value, drill: null, markings: [] });
  if (!drill.ok) return drill;
  const score = await files.read(files.beside(file, drill.value.score.file));
  if (score.ok) {
    const markings = await markingsBeside(file, drill.value.score.sha256, files);
    return markings.ok ? ok({ bytes: score.value, drill: drill.value, markings: markings.value }) : markings;
  }
  return score.error.code === 'file-missing'
    ? fail(
        'file-missing',
        `The score of this drill, ${drill.value.score.file}, is not in its folder any more.`,
      )
    : score;
};
