/**
 * Serves the built app to this machine alone, and opens it where there is a browser to open it.
 * usage: node scripts/serve.mjs [--port 8421] [--quiet]
 */
import { spawn } from 'node:child_process';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { listening, staticServer } from './static-server.mjs';

const { values } = parseArgs({
  options: { port: { type: 'string', default: '8421' }, quiet: { type: 'boolean', default: false } },
});

/** Another program may have the port: so many ports after it are tried. */
const tries = 20;

const server = staticServer(path.resolve(import.meta.dirname, '..', 'dist-app'));
const port = await listening(server, Number(values.port), tries);
const address = `http://localhost:${port}/`;
console.log(`Levare is open at ${address}  (this machine only; end it with Ctrl-C)`);

if (!values.quiet) {
  const opener = process.platform === 'darwin' ? 'open' : 'xdg-open';
  const opened = spawn(opener, [address], { stdio: 'ignore', detached: true });
  opened.on('error', () => undefined);
  opened.unref();
}
