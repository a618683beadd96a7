/**
 * Serves the built app to this machine alone, and opens it where there is a browser to open it.
 * usage: node scripts/serve.mjs [--port 8421] [--quiet]
 */
import { spawn } from 'node:child_process';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { listening, staticServer } from './static-server.mjs';

const usage = 'usage: ./start [--port 8421] [--quiet]   --quiet: opens no browser';

const asked = () => {
  try {
    const { values } = parseArgs({
      options: {
        port: { type: 'string', default: '8421' },
        quiet: { type: 'boolean', default: false },
        help: { type: 'boolean', short: 'h', default: false },
      },
    });
    return values;
  } catch (error) {
    console.error(`${error.message}\n${usage}`);
    process.exit(2);
  }
};
const values = asked();
const wanted = Number(values.port);
if (values.help) {
  console.log(usage);
  process.exit(0);
}
if (!Number.isInteger(wanted) || wanted < 1 || wanted > 65_535) {
  console.error(`A port is a whole number from 1 to 65535, not "${values.port}".\n${usage}`);
  process.exit(2);
}

/** Another program may have the port: so many ports after it are tried. */
const tries = 20;

const server = staticServer(path.resolve(import.meta.dirname, '..', 'dist-app'));
const port = await listening(server, wanted, tries);
const address = `http://localhost:${port}/`;
console.log(`Levare is open at ${address}  (this machine only; end it with Ctrl-C)`);

if (!values.quiet) {
  const opener = process.platform === 'darwin' ? 'open' : 'xdg-open';
  const opened = spawn(opener, [address], { stdio: 'ignore', detached: true });
  opened.on('error', () => undefined);
  opened.unref();
}
