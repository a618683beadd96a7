/** From the bytes of a recording to what is listened to, block by block. */
import { judgeSound, monoMaker, type Mono } from '../listen/mono.ts';
import { fail, ok, type Problem, type Result } from '../units/index.ts';
import { heldBytes, keptPiece, type SoundBytes } from './soundBytes.ts';
import { soundKind, tagged, type SoundKind } from './soundKind.ts';
import { wavBlocks } from './wavSound.ts';

/** What takes compressed sound apart. Adapters stand in src/host. */
export interface DecodePort {
  /**
   * Decodes a file of a kind, telling each block with its rate in Hz and one array for each channel. What could not be
   * read of it is a Problem. Errors: `sound-damaged`, `sound-too-long`, and `sound-kind` where this machine cannot.
   */
  readonly decode: (
    bytes: SoundBytes,
    kind: Exclude<SoundKind, 'wav'>,
    block: (rate: number, channels: readonly Float32Array[]) => void,
  ) => Promise<Result<null>>;
}

/** Recordings: their bytes, and what is in them. */
export interface SoundPort extends DecodePort {
  /** The bytes of a recording. Errors: those of `ReadPort.read`. */
  readonly read: (path: string) => Promise<Result<SoundBytes>>;
}

const kinds = 'WAV, FLAC, MP3, Ogg Vorbis, Opus, AAC and M4A';

const refuse = (name: string, found: ReturnType<typeof soundKind>, size: number): Result<never> => {
  if (size === 0) return fail('file-empty', `${name} is empty.`);
  if (found !== null && typeof found === 'object')
    return fail(
      'sound-kind',
      `${name} is ${found.unread}, which is not read. Save or export it as WAV or FLAC (or record as such) and try again; ${kinds} are read.`,
    );
  return fail('sound-unknown', `${name} is no recording that is known. ${kinds} are read.`);
};

/** Repairs told once for each block are told once. */
const onceEach = (problems: readonly Problem[]): readonly Problem[] => [
  ...new Map(problems.map((found) => [found.code, found])).values(),
];

/** Bytes by which a kind of sound is known, and those of it that stand behind a tag. */
const [headBytes, behindTag] = [4096, 64];

/** The kind of sound, by its beginning. A tag in front of it may be longer than that (pictures). Errors pass through. */
const kindOf = async (bytes: SoundBytes): Promise<Result<ReturnType<typeof soundKind>>> => {
  const head = await keptPiece(bytes, 0, headBytes);
  if (!head.ok) return head;
  const at = tagged(head.value);
  if (at + behindTag <= headBytes) return ok(soundKind(head.value));
  const behind = await keptPiece(bytes, at, at + behindTag);
  return behind.ok ? ok(soundKind(head.value, behind.value)) : behind;
};

/**
 * Reads a recording. Errors: `file-empty`, `sound-kind`, `sound-unknown`, those of `readWav` and of the decoders, and
 * those of `judgeSound`. `name`: as the user named it.
 */
export const readSound = async (
  given: Uint8Array | SoundBytes,
  name: string,
  port: DecodePort,
): Promise<Result<Mono>> => {
  const bytes = given instanceof Uint8Array ? heldBytes(given) : given;
  const found = await kindOf(bytes);
  if (!found.ok) return found;
  const kind = found.value;
  if (kind === null || typeof kind === 'object') return refuse(name, kind, bytes.size);
  let maker = monoMaker();
  const begin = (seconds: number): ReturnType<typeof monoMaker>['push'] => {
    maker = monoMaker(seconds);
    return maker.push;
  };
  const read = kind === 'wav' ? await wavBlocks(bytes, begin) : await port.decode(bytes, kind, maker.push);
  if (!read.ok) return { ok: false, error: { ...read.error, message: `${name}: ${read.error.message}` } };
  const mono = maker.end();
  const { error, problems } = judgeSound(mono, name);
  if (error !== null) return { ok: false, error };
  if (mono === null) return fail('take-empty', `${name} holds no sound.`);
  return ok(mono, onceEach([...read.problems, ...problems]));
};
