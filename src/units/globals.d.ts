/**
 * The few globals that browsers and Node share and the core may use. Declared here so that the core compiles
 * without DOM and Node types. Encoding Standard: https://encoding.spec.whatwg.org
 */
declare class TextDecoder {
  constructor(label?: string, options?: { fatal?: boolean; ignoreBOM?: boolean });
  decode(input?: Uint8Array): string;
}
declare class TextEncoder {
  encode(input?: string): Uint8Array<ArrayBuffer>;
}
