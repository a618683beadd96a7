/** A small server for one folder of built files: reads only, from this machine only. */
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import path from 'node:path';
import { contentPolicy } from './content-policy.mjs';

const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webmanifest': 'application/manifest+json',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.musicxml': 'application/vnd.recordare.musicxml+xml',
};

/** The file that a request asks for; null where it leads out of the folder or is none. */
const fileOf = async (folder, url) => {
  let name;
  try {
    name = decodeURIComponent(new URL(url, 'http://localhost').pathname);
  } catch {
    return null;
  }
  if (name.includes('\0')) return null;
  const file = path.join(folder, name.endsWith('/') ? `${name}index.html` : name);
  if (file !== folder && !file.startsWith(folder + path.sep)) return null;
  const info = await stat(file).catch(() => null);
  return info?.isFile() === true ? { file, size: info.size } : null;
};

/** Other sites must not read this one through a name of theirs that leads here. */
const isLocal = (host) => /^(localhost|127\.0\.0\.1|\[::1\])(:\d+)?$/.test(host ?? '');

/** Files under `assets` carry a hash of what they hold in their names: they never change. */
const cacheOf = (file) =>
  path.basename(path.dirname(file)) === 'assets' ? 'public, max-age=31536000, immutable' : 'no-cache';

/** Serves `folder`. */
export const staticServer = (folder) =>
  createServer(async (request, response) => {
    const found = isLocal(request.headers.host) ? await fileOf(folder, request.url ?? '/') : null;
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.writeHead(405, { allow: 'GET, HEAD' }).end();
      return;
    }
    if (found === null) {
      response
        .writeHead(404, { 'content-type': 'text/plain; charset=utf-8' })
        .end('There is no such file.\n');
      return;
    }
    response.writeHead(200, {
      'content-type': types[path.extname(found.file)] ?? 'application/octet-stream',
      'content-length': found.size,
      'cache-control': cacheOf(found.file),
      'content-security-policy': contentPolicy,
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
    });
    if (request.method === 'HEAD') response.end();
    else
      createReadStream(found.file)
        .on('error', () => response.destroy())
        .pipe(response);
  });

/** Listens on this machine's own address; the port that was free, from `port` on. */
export const listening = (server, port, tries) =>
  new Promise((resolve, reject) => {
    const attempt = (number, left) => {
      server.once('error', (error) => {
        if (error.code === 'EADDRINUSE' && left > 0) attempt(number + 1, left - 1);
        else reject(error);
      });
      server.listen(number, '127.0.0.1', () => resolve(server.address().port));
    };
    attempt(port, tries);
  });
