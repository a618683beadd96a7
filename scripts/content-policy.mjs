/**
 * What the built pages may load: their own files, nothing else, and no request to anyone. The engraver is WebAssembly,
 * which needs a word of its own (Content Security Policy Level 3, 'wasm-unsafe-eval').
 */
export const contentPolicy = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "worker-src 'self'",
  "style-src 'self'",
  "font-src 'self'",
  "img-src 'self'",
  // Recordings that lie on this device: "blob:" is what this page made itself, never anything from elsewhere.
  'media-src blob:',
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');
