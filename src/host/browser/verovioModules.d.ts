/** What is used of the engraver, which ships no types. */
declare module 'verovio/wasm' {
  export default function createVerovioModule(): Promise<object>;
}
declare module 'verovio/esm' {
  export const LOG_OFF: number;
  export function enableLog(level: number, module: object): void;
  export class VerovioToolkit {
    constructor(module: object);
    setOptions(options: Readonly<Record<string, unknown>>): void;
    loadData(data: string): boolean;
    getPageCount(): number;
    renderToSVG(page: number): string;
  }
}
