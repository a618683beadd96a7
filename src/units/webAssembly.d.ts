/**
 * The little of WebAssembly that the core uses: arithmetic by another compiler, the same in browsers and Node. Declared here so that the core
 * compiles without DOM types. WebAssembly JavaScript Interface: https://webassembly.github.io/spec/js-api/
 */
declare namespace WebAssembly {
  const Module: new (bytes: Uint8Array<ArrayBuffer>) => object;
  class Memory {
    constructor(size: { initial: number });
    readonly buffer: ArrayBuffer;
    grow(pages: number): number;
  }
  class Instance {
    constructor(module: object, imports: Record<string, Record<string, Memory>>);
    readonly exports: Readonly<Record<string, unknown>>;
  }
}
