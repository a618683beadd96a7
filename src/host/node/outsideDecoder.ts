/**
 * AAC by a program that this machine already has: nothing is linked (docs/decisions/decoders.md). The program is found on
 * the path, started without a shell on a copy of the recording in a folder of its own, and tells the sound as WAV.
 */
import { spawn } from 'node:child_process';
import { constants } from 'node:fs';
import { access, mkdtemp, open, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { eachPiece, type SoundBytes } from '../../desk/index.ts';
import { fail, ok, problem, type Problem, type Result } from '../../units/index.ts';
import { causeOf } from './cause.ts';
import { wavFloats } from './wavFloats.ts';

export type OutsideKind = 'aac' | 'm4a';

type Block = (rate: number, channels: readonly Float32Array[]) => void;

interface Program {
  readonly name: string;
  readonly arguments: (file: string, kind: OutsideKind) => readonly string[];
}

/** In the order in which they are tried. Each writes 32-bit floating-point WAV of unstated length to its output. */
const programs: readonly Program[] = [
  {
    // Takes the encoder's delay out where the file tells it (the edit list of ISO/IEC 14496-12).
    name: 'ffmpeg',
    arguments: (file, kind) => [
      ...['-nostdin', '-v', 'error', '-protocol_whitelist', 'file'],
      ...['-f', kind === 'm4a' ? 'mov' : 'aac', '-i', `file:${file}`],
      ...['-map', '0:a:0', '-c:a', 'pcm_f32le', '-f', 'wav', 'pipe:1'],
    ],
  },
  // Leaves out the first frame, whatever the file tells.
  { name: 'faad', arguments: (file) => ['-q', '-b', '4', '-w', file] },
];

export interface OutsideLimits {
  /** Milliseconds for a recording. */
  readonly time: number;
  /** Bytes of sound. */
  readonly size: number;
}

/** An hour is decoded in less than a minute; three hours of stereo at 48 kHz have 4.1 GB. */
const usualLimits: OutsideLimits = { time: 10 * 60_000, size: 8 * 2 ** 30 };

/** Programs are looked for in whole paths only, so that none that lies beside the recordings is run. */
const whole = async (name: string, searched: string): Promise<string | null> => {
  const ending = process.platform === 'win32' ? '.exe' : '';
  for (const folder of searched.split(path.delimiter)) {
    if (!path.isAbsolute(folder)) continue;
    const file = path.join(folder, name + ending);
    try {
      await access(file, constants.X_OK);
      if ((await stat(file)).isFile()) return file;
    } catch {
      // Not here.
    }
  }
  return null;
};

interface Ran {
  /** What stopped it; null where it came to its end by itself. */
  readonly stopped: 'time' | 'size' | null;
  readonly failed: boolean;
  /** Lines of complaint. */
  readonly complaints: number;
}

const run = (
  program: string,
  args: readonly string[],
  take: (bytes: Uint8Array) => void,
  limits: OutsideLimits,
): Promise<Ran> =>
  new Promise((resolve) => {
    const child = spawn(program, args, {
      stdio: ['ignore', 'pipe', 'pipe'],
      shell: false,
      windowsHide: true,
    });
    let stopped: Ran['stopped'] = null;
    let [size, complaints] = [0, 0];
    const stop = (why: 'time' | 'size'): void => {
      stopped ??= why;
      child.kill('SIGKILL');
    };
    const timer = setTimeout(() => stop('time'), limits.time);
    const end = (failed: boolean): void => {
      clearTimeout(timer);
      resolve({ stopped, failed, complaints });
    };
    child.stdout.on('data', (bytes: Uint8Array) => {
      size += bytes.length;
      if (size > limits.size) stop('size');
      else take(bytes);
    });
    child.stderr.on('data', (bytes: Uint8Array) => {
      for (const byte of bytes) if (byte === 10) complaints += 1;
    });
    child.on('error', () => end(true));
    child.on('close', (code) => end(code !== 0));
  });

const kinds: Readonly<Record<OutsideKind, string>> = { aac: 'AAC', m4a: 'M4A' };

const none = (kind: OutsideKind): Result<never> =>
  fail(
    'sound-kind',
    `${kinds[kind]} is read with the help of a program, ffmpeg or faad, and neither is found on this machine. Install one of them, or save or export the recording as WAV or FLAC.`,
  );

const damaged = (complaints: number): readonly Problem[] =>
  complaints === 0
    ? []
    : [
        problem(
          'repair',
          'sound-damaged',
          'The file is damaged or cut off; what could not be read is left out, so that times after it may be wrong.',
        ),
      ];

/** Writes a copy of the recording that nobody else may read. Errors pass through. */
const copyTo = async (file: string, bytes: SoundBytes): Promise<Result<null>> => {
  const copy = await open(file, 'wx', 0o600);
  try {
    return await eachPiece(bytes, (piece) => copy.writeFile(piece));
  } finally {
    await copy.close();
  }
};

/** Has a program decode a copy of the recording. Errors: `sound-damaged`, `sound-too-long`. */
const decodeBy = async (
  { name, arguments: args }: Program,
  program: string,
  { bytes, kind, block }: { readonly bytes: SoundBytes; readonly kind: OutsideKind; readonly block: Block },
  limits: OutsideLimits,
): Promise<Result<null>> => {
  const folder = await mkdtemp(path.join(tmpdir(), 'levare-'));
  try {
    const file = path.join(folder, `recording.${kind}`);
    const copied = await copyTo(file, bytes);
    if (!copied.ok) return copied;
    const sound = wavFloats(block);
    const { stopped, failed, complaints } = await run(program, args(file, kind), sound.take, limits);
    if (stopped !== null)
      return fail(
        'sound-too-long',
        `${name} was stopped: it had not come to an end after ${stopped === 'time' ? `${Math.round(limits.time / 1000)} seconds` : `${limits.size} bytes of sound`}. Save a shorter part, or save it as WAV or FLAC.`,
      );
    if (sound.frames() === 0)
      return fail(
        'sound-damaged',
        `The file begins like ${kinds[kind]}, but ${name} can make no sound of it. It is damaged, cut off or of a kind that ${name} does not know.`,
      );
    const by = problem('note', 'sound-by-program', `Decoded by ${name}, a program of this machine.`);
    return ok(null, [...damaged(failed ? Math.max(1, complaints) : complaints), by]);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};

/**
 * Decodes AAC in an ADTS stream or an MP4 file. Note: `sound-by-program`. Errors: `sound-kind` where no program is there,
 * `sound-damaged`, `sound-too-long`, `cannot-write`. `searched`: folders with programs, as in PATH.
 */
export const decodeOutside = async (
  bytes: SoundBytes,
  kind: OutsideKind,
  block: Block,
  searched = process.env['PATH'] ?? '',
  limits = usualLimits,
): Promise<Result<null>> => {
  for (const one of programs) {
    const program = await whole(one.name, searched);
    if (program === null) continue;
    try {
      return await decodeBy(one, program, { bytes, kind, block }, limits);
    } catch (error) {
      return fail(
        'cannot-write',
        `A copy of the recording for ${one.name} cannot be written: ${causeOf(error)}.`,
      );
    }
  }
  return none(kind);
};
