/** FLAC by libFLAC (BSD) in libflacjs (MIT), a script that runs in Node and in the browser; loaded when the first pack is made. */
import type { FlacPort } from '../desk/pack/pack.ts';
import { fail, ok, type Result } from '../units/index.ts';

/** Frames that are handed over at a time, and how hard is packed: libFLAC's own usual level. */
const block = 65_536;
const level = 5;

/** Where STREAMINFO has the MD5 of the samples: behind "fLaC", a block header of 4 bytes and 18 bytes (RFC 9639, 8.2). */
const md5At = 26;

const refused = (why: string): Result<never> =>
  fail('sound-not-packed', `The sound could not be packed as FLAC: ${why}. It is there as WAV.`);

export const flacEncoder: FlacPort = {
  encode: async (samples, { rate, channels }) => {
    try {
      const { default: flac } = await import('libflacjs/dist/libflac.js');
      if (!flac.isReady()) await new Promise<void>((ready) => flac.on('ready', ready));
      const frames = Math.floor(samples.length / channels);
      const encoder = flac.create_libflac_encoder(rate, channels, 16, level, frames, false, 0);
      if (encoder === 0) return refused(`${channels} channels at ${rate} Hz are not taken`);
      const chunks: Uint8Array[] = [];
      let md5 = '';
      const begun = flac.init_encoder_stream(
        encoder,
        (data) => void chunks.push(data.slice()),
        (found) => (md5 = found?.md5sum ?? ''),
      );
      if (begun !== 0) return refused(`the encoder says ${begun}`);
      for (let at = 0; at < frames; at += block) {
        const some = Int32Array.from(
          samples.subarray(at * channels, Math.min(frames, at + block) * channels),
        );
        flac.FLAC__stream_encoder_process_interleaved(encoder, some, some.length / channels);
      }
      const done = flac.FLAC__stream_encoder_finish(encoder) !== 0;
      flac.FLAC__stream_encoder_delete(encoder);
      if (!done) return refused('the encoder broke off');
      const all = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
      let at = 0;
      for (const chunk of chunks) {
        all.set(chunk, at);
        at += chunk.length;
      }
      // The stream cannot be gone back in, so its head was written before the sum was known.
      for (let i = 0; 2 * i < md5.length && md5.length === 32; i++)
        all[md5At + i] = Number.parseInt(md5.slice(2 * i, 2 * i + 2), 16);
      return ok(all);
    } catch (error) {
      return refused(error instanceof Error ? error.message : 'unknown');
    }
  },
};
