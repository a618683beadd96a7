/** What is used of libflacjs: libFLAC as a plain script, whose own types are for another way to load it. */
declare module 'libflacjs/dist/libflac.js' {
  interface Flac {
    isReady(): boolean;
    on(event: 'ready', told: () => void): void;
    create_libflac_encoder(
      rate: number,
      channels: number,
      bits: number,
      level: number,
      samples: number,
      verify: boolean,
      blockSize: number,
    ): number;
    init_encoder_stream(
      encoder: number,
      write: (data: Uint8Array) => void,
      metadata: (found: { readonly md5sum?: string } | undefined) => void,
    ): number;
    FLAC__stream_encoder_process_interleaved(encoder: number, samples: Int32Array, frames: number): number;
    FLAC__stream_encoder_finish(encoder: number): number;
    FLAC__stream_encoder_delete(encoder: number): void;
  }
  const flac: Flac;
  export default flac;
}
