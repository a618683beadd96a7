import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { listening, staticServer } from '../../scripts/static-server.mjs';

const place = mkdtempSync(path.join(tmpdir(), 'levare-server-'));
const inside = path.join(place, 'app');
const server = staticServer(inside);
let port = 0;

beforeAll(async () => {
  mkdirSync(path.join(inside, 'assets'), { recursive: true });
  writeFileSync(path.join(inside, 'index.html'), 'the page');
  writeFileSync(path.join(inside, 'assets', 'a b.js'), 'script');
  writeFileSync(path.join(place, 'secret.txt'), 'secret');
  port = await listening(server, 0, 0);
});
afterAll(() => {
  server.close();
  rmSync(place, { recursive: true, force: true });
});

interface Got {
  readonly status: number;
  readonly type: string;
  readonly text: string;
}

/** Asks as written: a client of the usual kind would tidy the path first. */
const got = (url: string, method = 'GET', host = `localhost:${port}`): Promise<Got> =>
  new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path: url, method, headers: { host } }, (answer) => {
      let text = '';
      answer.on('data', (data: Buffer) => (text += data.toString()));
      answer.on('end', () =>
        resolve({ status: answer.statusCode ?? 0, type: answer.headers['content-type'] ?? '', text }),
      );
    });
    asked.on('error', reject);
    asked.end();
  });

it('gives the files of its folder, with their types', async () => {
  expect(await got('/')).toMatchObject({ status: 200, type: 'text/html; charset=utf-8', text: 'the page' });
  expect(await got('/assets/a%20b.js')).toMatchObject({ status: 200, text: 'script' });
  expect(await got('/index.html', 'HEAD')).toMatchObject({ status: 200, text: '' });
});

it.each(['/../secret.txt', '/%2e%2e/secret.txt', '/..%2fsecret.txt', '/assets', '/none', '/%00', '/%zz'])(
  'gives nothing else: %s',
  async (url) => {
    const { status, text } = await got(url);
    expect(status).toBe(404);
    expect(text).not.toContain('secret\n');
  },
);

it('only reads, and only for this machine', async () => {
  expect((await got('/', 'POST')).status).toBe(405);
  expect((await got('/', 'GET', 'elsewhere.example')).status).toBe(404);
});

it('takes another port where the first is taken', async () => {
  const second = staticServer(inside);
  expect(await listening(second, port, 5)).toBeGreaterThan(port);
  second.close();
});
