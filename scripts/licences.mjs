/**
 * The licence of every installed package, from package-lock.json. Fails on GPL and AGPL anywhere, and on LGPL or an
 * unstated licence in what is shipped, but for those named here with the reason.
 */
import { readFileSync } from 'node:fs';

const allowed = {
  verovio: 'LGPL-3.0-or-later: a separate, replaceable package that runs in a worker of its own; see NOTICE.',
  'codec-parser':
    'LGPL-3.0-or-later: a separate, replaceable package that the decoders of FLAC, Vorbis and Opus load unchanged; see NOTICE.',
  'png-js': 'States no licence in its manifest; the LICENSE file that it ships is MIT.',
};

const lock = JSON.parse(readFileSync(new URL('../package-lock.json', import.meta.url), 'utf8'));
const counts = new Map();
const refused = [];
for (const [path, entry] of Object.entries(lock.packages)) {
  if (path === '') continue;
  const name = path.replace(/^.*node_modules\//, '');
  const licence = entry.license ?? 'not stated';
  counts.set(licence, (counts.get(licence) ?? 0) + 1);
  const strong = /(^|[^L])GPL/.test(licence);
  const weak = entry.dev !== true && entry.optional !== true && /LGPL|not stated/.test(licence);
  if (strong || (weak && !(name in allowed))) refused.push(`${name}: ${licence}`);
}
for (const [licence, count] of [...counts].sort((a, b) => b[1] - a[1])) console.log(`${count}\t${licence}`);
for (const [name, reason] of Object.entries(allowed)) console.log(`${name}: ${reason}`);
if (refused.length > 0) {
  console.error(`Not allowed here:\n${refused.join('\n')}`);
  process.exit(1);
}
