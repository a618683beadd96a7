/**
 * The licence of every installed package, from package-lock.json. Fails on GPL and AGPL anywhere, and on LGPL or an
 * unstated licence in what is shipped.
 */
import { readFileSync } from 'node:fs';

const lock = JSON.parse(readFileSync(new URL('../package-lock.json', import.meta.url), 'utf8'));
/** Packages that state no licence where the lock file looks, and the one in their LICENSE file, by exact version. */
const readByHand = { 'node_modules/png-js@2.0.0': 'MIT' };

const counts = new Map();
const refused = [];
for (const [path, entry] of Object.entries(lock.packages)) {
  if (path === '') continue;
  const licence = entry.license ?? readByHand[`${path}@${entry.version}`] ?? 'not stated';
  const shipped = entry.dev !== true;
  counts.set(licence, (counts.get(licence) ?? 0) + 1);
  const strong = /(^|[^L])GPL/.test(licence);
  const unstated = licence === 'not stated' && entry.optional !== true;
  if (strong || (shipped && unstated)) refused.push(`${path.replace('node_modules/', '')}: ${licence}`);
}
for (const [licence, count] of [...counts].sort((a, b) => b[1] - a[1])) console.log(`${count}\t${licence}`);
if (refused.length > 0) {
  console.error(`Not allowed here:\n${refused.join('\n')}`);
  process.exit(1);
}
