/**
 * In place of the engraver's thread: it does what the text says. "loop" and "loop in the library" never come back,
 * "throw", "exit", "fill the memory" break, "throw later" breaks when it is idle again, "nonsense" answers so; else it engraves.
 */
import { parentPort } from 'node:worker_threads';

/** WebAssembly Core 1.0, binary format, by hand: a module whose function "f" is (loop br 0), which never ends. */
const endless = Uint8Array.from([
  ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
  ...[0x01, 0x04, 0x01, 0x60, 0x00, 0x00],
  ...[0x03, 0x02, 0x01, 0x00],
  ...[0x07, 0x05, 0x01, 0x01, 0x66, 0x00, 0x00],
  ...[0x0a, 0x09, 0x01, 0x07, 0x00, 0x03, 0x40, 0x0c, 0x00, 0x0b, 0x0b],
]);

const font = "<style>@font-face { font-family: 'Stub'; src: url(data:font/woff2;base64,AAAA) }</style>";

const deeds = {
  loop: () => {
    for (;;);
  },
  'loop in the library': () => new WebAssembly.Instance(new WebAssembly.Module(endless)).exports.f(),
  throw: () => {
    throw new Error('broken');
  },
  exit: () => process.exit(3),
  'fill the memory': () => {
    const all = [];
    for (;;) all.push(Array.from({ length: 10_000 }, (_, i) => ({ i })));
  },
  nonsense: () => 'nonsense',
  'throw later': () => {
    setTimeout(() => {
      throw new Error('broken while idle');
    }, 20);
    return { kind: 'engraved', pictures: ['<svg/>'] };
  },
};

parentPort.on('message', ({ musicXml }) => {
  const deed = deeds[musicXml];
  parentPort.postMessage(
    deed === undefined ? { kind: 'engraved', pictures: [`<svg>${font}</svg>`] } : deed(),
  );
});
parentPort.postMessage({ kind: 'ready', version: '6.3.0' });
