/**
 * The engraver's own thread: it can be ended at any time, and nothing else waits for it. Verovio (LGPL-3.0-or-later) is
 * loaded here and nowhere else on Node, so that it stays a piece of its own that can be replaced.
 */
import { parentPort } from 'node:worker_threads';
import createVerovioModule from 'verovio/wasm';
import { enableLog, LOG_OFF, VerovioToolkit } from 'verovio/esm';

const verovio = await createVerovioModule();
// Its doubts about our MusicXML go to the console, where they would disturb; what is missing is found by its ids.
enableLog(LOG_OFF, verovio);
const engraver = new VerovioToolkit(verovio);

const pictures = ({ musicXml, options }) => {
  engraver.setOptions(options);
  if (!engraver.loadData(musicXml)) throw new Error('The engraver does not read it.');
  return Array.from({ length: engraver.getPageCount() }, (_, i) => engraver.renderToSVG(i + 1));
};

parentPort.on('message', (job) => {
  try {
    parentPort.postMessage({ kind: 'engraved', pictures: pictures(job) });
  } catch (error) {
    parentPort.postMessage({ kind: 'failed', why: String(error) });
  }
});
parentPort.postMessage({ kind: 'ready', version: engraver.getVersion() });
