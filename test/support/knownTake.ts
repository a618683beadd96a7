/** Takes of known truth: a drill's own parts and click, one player moved by a known time. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import {
  asInScore,
  makeDrill,
  readRequest,
  type FileToWrite,
  type RequestTexts,
} from '../../src/desk/index.ts';
import { readWav } from '../../src/sound/wav/read.ts';
import { writeWav } from '../../src/sound/wav/write.ts';

export const demoBytes = new Uint8Array(
  readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml')),
);

const gathered = (chunks: Iterable<Uint8Array>): Uint8Array<ArrayBuffer> =>
  new Uint8Array(Buffer.concat([...chunks]));

const samplesOf = (files: readonly FileToWrite[], name: string): Float32Array => {
  const file = files.find((one) => one.name === name);
  const read = file === undefined ? null : readWav(gathered(file.chunks));
  const channel = read?.ok === true ? read.value.channels[0] : undefined;
  if (channel === undefined) throw new Error(`no ${name}`);
  return Float32Array.from(channel);
};

/** One channel of 32-bit samples at 48 kHz. */
export const wavOf = (samples: Float32Array): Uint8Array<ArrayBuffer> => {
  const written = writeWav([samples], { sampleRate: 48_000, channels: 1, depth: 32, frames: samples.length });
  if (!written.ok) throw new Error(written.error.message);
  return gathered(written.value);
};

export interface KnownTake {
  /** The drill's folder file, drill.json. */
  readonly drill: Uint8Array;
  /** Click and each part, by part id, apart; and all together. */
  readonly each: ReadonlyMap<string, Uint8Array<ArrayBuffer>>;
  readonly all: Uint8Array<ArrayBuffer>;
}

/** Renders a drill of two players; `late`: milliseconds by which a part comes after the click, by id. Half a second of silence stands in front. */
export const knownTake = (
  texts: RequestTexts,
  late: Readonly<Record<string, number>>,
  bytes = demoBytes,
): KnownTake => {
  const request = readRequest(texts);
  if (!request.ok) throw new Error(request.error.message);
  const made = (without: readonly string[]): readonly FileToWrite[] => {
    const folder = makeDrill(bytes, request.value, { depth: 32, without, settings: asInScore });
    if (!folder.ok) throw new Error(folder.error.message);
    return folder.value.files;
  };
  const parts = ['P1', 'P2'];
  const files = made([]);
  const click = samplesOf(files, 'click.wav');
  const lead = 24_000;
  const room = click.length + lead + 48_000;
  const put = (into: Float32Array, from: Float32Array, at: number, gain: number): void => {
    from.forEach((value, i) => {
      const k = i + at;
      if (k >= 0 && k < into.length) into[k] = (into[k] ?? 0) + gain * value;
    });
  };
  const all = new Float32Array(room);
  put(all, click, lead, 0.3);
  const each = new Map(
    parts.map((part) => {
      const own = samplesOf(made(parts.filter((other) => other !== part)), 'parts.wav');
      const at = lead + Math.round(48 * (late[part] ?? 0));
      const alone = new Float32Array(room);
      put(alone, click, lead, 0.3);
      put(alone, own, at, 0.7);
      put(all, own, at, 0.5);
      return [part, wavOf(alone)] as const;
    }),
  );
  const json = files.find(({ name }) => name === 'drill.json');
  return { drill: gathered(json?.chunks ?? []), each, all: wavOf(all) };
};
