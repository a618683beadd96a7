/** What the tests use of the engraver, which ships no types. */
declare module 'verovio/wasm' {
  export default function createVerovioModule(): Promise<object>;
}
declare module 'verovio/esm' {
  export class VerovioToolkit {
    constructor(module: object);
    setOptions(options: Readonly<Record<string, unknown>>): void;
    loadData(data: string): boolean;
    loadZipDataBuffer(data: ArrayBuffer): boolean;
    getMEI(): string;
    /** The key of a note, as MIDI counts. */
    getMIDIValuesForElement(id: string): { readonly pitch: number };
    /** With fractions: `qfrac` in quarters from the beginning, `on` the ids of notes that begin there. */
    renderToTimemap(options: Readonly<Record<string, unknown>>): readonly {
      readonly on?: readonly string[];
      readonly qfrac: readonly [number, number];
    }[];
  }
}
