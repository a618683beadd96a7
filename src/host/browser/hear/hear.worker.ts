/** The thread that hears. The ear with its weights, and what draws a reading, are loaded here and nowhere else. */
import {
  chartWidth,
  hear,
  readingCharts,
  readingCsv,
  readingPages,
  readingShown,
  readingWithout,
  calledBy,
  playedDrill,
  workedDrill,
  type TakeFile,
} from '../../../desk/hearing.ts';
import { readWav } from '../../../desk/hearing.ts';
import { heldBytes } from '../../../desk/soundBytes.ts';
import { soundKind } from '../../../desk/soundKind.ts';
import { fail, ok, type Result } from '../../../units/index.ts';
import { answering } from '../calls.ts';
import { decodedSound } from '../../decoders.ts';
import type { MadeFile } from '../desk.ts';
import { browserEngraver } from '../engraver.ts';
import { gathered } from '../gathered.ts';
import type { FilesAsk, Heard, HearableSound, HearingCalls, ReadAsk } from './calls.ts';

/** Started when music is wanted. */
let engraver: ReturnType<typeof browserEngraver> | null = null;
const engraving = (): ReturnType<typeof browserEngraver> => (engraver ??= browserEngraver());

/** How much is to be done since it was told last, so that it is worth telling. */
const worthTelling = 0.01;
let told = 0;
const tell = (done: number): void => {
  if (done > told && done < told + worthTelling) return;
  told = done;
  const news: Heard = { done };
  postMessage(news);
};

const fileOf = ({ name, part, file }: HearableSound): TakeFile => {
  const piece = async (from: number, to: number): Promise<Result<Uint8Array>> => {
    try {
      return ok(new Uint8Array(await file.slice(from, Math.max(from, to)).arrayBuffer()));
    } catch {
      return fail('file-unreadable', `${name} cannot be read. A folder, or a file that has gone?`);
    }
  };
  return {
    name,
    part,
    read: async () => {
      const first = await piece(0, 1);
      return first.ok ? ok({ size: file.size, piece }) : first;
    },
  };
};

const cannotUnpack = fail(
  'sound-kind',
  'This browser cannot read this kind of recording. Save or export it as WAV or FLAC and try again.',
);

const read = async ({ score, played, sounds, with: playing, distances }: ReadAsk) => {
  const drill = playedDrill(score, played);
  if (!drill.ok) return drill;
  const heard = await hear(
    sounds.map(fileOf),
    { bytes: score, ...drill.value.settings, drill: drill.value.drill },
    { with: playing, distances: new Map(Object.entries(distances)), progress: tell },
    {
      decode: (bytes, kind, block) =>
        kind === 'aac' || kind === 'm4a' ? Promise.resolve(cannotUnpack) : decodedSound(bytes, kind, block),
    },
  );
  return heard.ok ? ok({ reading: heard.value, ...drill.value }, heard.problems) : heard;
};

const files = async ({
  score,
  drill,
  settings,
  reading: raw,
  options: { out, until, names, language },
  names: wanted,
}: FilesAsk): Promise<Result<readonly MadeFile[]>> => {
  const heard = { bytes: score, drill, ...settings };
  const worked = workedDrill(heard);
  if (!worked.ok) return worked;
  const reading = calledBy(readingWithout(worked.value, raw, { out: new Set(out), until }), names);
  const made: MadeFile[] = [];
  const text = (name: string, content: string): void => {
    if (wanted.includes(name)) made.push({ name, bytes: new TextEncoder().encode(content) });
  };
  text('reading.json', `${JSON.stringify(reading, null, 2)}\n`);
  text('reading.csv', readingCsv(reading));
  for (const { name, svg } of readingCharts(reading, language)) {
    text(`${name}.svg`, svg);
    if (!wanted.includes(`${name}.png`)) continue;
    const { browserPng } = await import('../png.ts');
    const png = await browserPng.make(svg, chartWidth({ svg }));
    if (!png.ok) return png;
    made.push({ name: `${name}.png`, bytes: new Uint8Array(png.value) });
  }
  if (!wanted.includes('reading.pdf')) return ok(made);
  const [{ pdfMaker }, { browserFonts }] = await Promise.all([
    import('../../pdf.ts'),
    import('../pdfFonts.ts'),
  ]);
  const pages = await readingPages(
    heard,
    reading,
    { language },
    { engraver: engraving(), pdf: pdfMaker(await browserFonts()) },
  );
  if (!pages.ok) return pages;
  const pdf = pages.value.files.find(({ name }) => name === 'reading.pdf');
  return ok(
    pdf === undefined ? made : [...made, { name: pdf.name, bytes: gathered(pdf.chunks) }],
    pages.problems,
  );
};

interface Unpacked {
  readonly sampleRate: number;
  readonly channels: readonly Float32Array[];
}

/** A whole packed recording. Errors: those of its reader. */
const unpacked = async (bytes: Uint8Array, kind: ReturnType<typeof soundKind>): Promise<Result<Unpacked>> => {
  if (kind === null || kind === 'wav' || kind === 'aac' || kind === 'm4a' || typeof kind !== 'string')
    return cannotUnpack;
  let sampleRate = 0;
  const blocks: (readonly Float32Array[])[] = [];
  const read = await decodedSound(heldBytes(bytes), kind, (rate, block) => {
    sampleRate = rate;
    blocks.push(block);
  });
  if (!read.ok) return read;
  const frames = blocks.reduce((sum, [first]) => sum + (first?.length ?? 0), 0);
  const channels = (blocks[0] ?? []).map((_, c) => {
    const whole = new Float32Array(frames);
    let at = 0;
    for (const block of blocks) {
      whole.set(block[c] ?? [], at);
      at += block[c]?.length ?? 0;
    }
    return whole;
  });
  return ok({ sampleRate, channels });
};

const flac = async (file: Blob): Promise<Result<Uint8Array<ArrayBuffer>>> => {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const kind = soundKind(bytes);
  if (kind === 'flac') return ok(bytes);
  const wav = kind === 'wav' ? readWav(bytes) : await unpacked(bytes, kind);
  if (!wav.ok) return wav;
  const { channels, sampleRate } = wav.value;
  const frames = channels[0]?.length ?? 0;
  const samples = new Int16Array(frames * channels.length);
  for (const [c, channel] of channels.entries())
    for (let i = 0; i < frames; i += 1)
      samples[i * channels.length + c] = Math.max(
        -32_768,
        Math.min(32_767, Math.round(32_768 * (channel[i] ?? 0))),
      );
  const { flacEncoder } = await import('../../flac.ts');
  const packed = await flacEncoder.encode(samples, { rate: sampleRate, channels: channels.length });
  return packed.ok ? ok(new Uint8Array(packed.value)) : packed;
};

answering<HearingCalls>({
  read,
  show: ({ score, drill, settings, reading, options }) =>
    readingShown({ bytes: score, drill, ...settings }, reading, options, engraving()),
  files,
  flac,
});
