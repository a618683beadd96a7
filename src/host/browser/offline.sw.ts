/**
 * Keeps the whole app on the device (Service Workers, W3C): after the first visit nothing is asked of the network any more.
 * One build is kept as a whole or not at all, and a newer one takes over when no page of the older is open, so that
 * a page never gets files of two builds.
 */
import { cacheName, keptFile, outdated } from './offlineFiles.ts';

/** Put in by the build (scripts/offline-files.mjs): a digest of what there is to keep, and the files, one a line. */
const build: string = '%BUILD%';
const files: readonly string[] = '%FILES%'.split('\n');

const known = new Set(files);

/** A page must not be answered with what came by another address: some hosts send index.html on to "/". */
const plain = async (response: Response): Promise<Response> =>
  response.redirected ? new Response(await response.blob(), { headers: response.headers }) : response;

const keep = async (cache: Cache, file: string): Promise<void> => {
  // Names of files under `assets` tell what they hold; others may stand in the browser's cache as they were before.
  const response = await fetch(file, { cache: file.startsWith('assets/') ? 'default' : 'reload' });
  if (!response.ok) throw new Error(`${file}: ${response.status}`);
  await cache.put(file, await plain(response));
};

const keepAll = async (): Promise<void> => {
  const cache = await caches.open(cacheName(build));
  try {
    await Promise.all(files.map((file) => keep(cache, file)));
  } catch (error) {
    await caches.delete(cacheName(build));
    throw error;
  }
};

const letGo = async (): Promise<void> => {
  const names = await caches.keys();
  await Promise.all(outdated(names, build).map((name) => caches.delete(name)));
  await clients.claim();
};

/** The kept file; the network where the browser has thrown it away. */
const answer = async (file: string, request: Request): Promise<Response> => {
  const cache = await caches.open(cacheName(build));
  return (await cache.match(new URL(file, registration.scope).href)) ?? fetch(request);
};

addEventListener('install', (event) => {
  if (event instanceof ExtendableEvent) event.waitUntil(keepAll());
});
addEventListener('activate', (event) => {
  if (event instanceof ExtendableEvent) event.waitUntil(letGo());
});
addEventListener('fetch', (event) => {
  if (!(event instanceof FetchEvent)) return;
  const file = keptFile(event.request, registration.scope, known);
  if (file !== null) event.respondWith(answer(file, event.request));
});
