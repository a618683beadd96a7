/** The browser's engraver over threads that loop or break: engraves texts one after the other and tells how each went. */
import { browserEngraver } from '../../../src/host/browser/engraver.ts';

const started = [];
/** The first thread does as it is told from its start; those after it start well. */
const thread = (deed) => () => {
  const name = started.length === 0 ? deed : 'well';
  started.push(name);
  return new Worker(new URL('./stub.worker.js', import.meta.url), { type: 'module', name });
};

window.levareEngraved = async (deed, texts) => {
  started.length = 0;
  const engraver = browserEngraver({ limit: () => 2000, startLimit: 2000 }, thread(deed));
  const results = await Promise.all(texts.map((text) => engraver.engrave(text, { staff: 7, width: 180 })));
  return { told: results.map((r) => (r.ok ? 'engraved' : r.error.code)), threads: started.length };
};
