/** The engraver with its reader of Humdrum. */
declare module 'verovio/wasm-hum' {
  export default function createVerovioModule(): Promise<object>;
}
