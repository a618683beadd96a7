/** What the thread that keeps the app for times without a network does with each request; the rule alone, without a browser. */

/** Name of the cache of one build. A build with other files has another. */
export const cacheName = (build: string): string => `levare-${build}`;

/** Caches of other builds, which may go once this one is in use. Other people's caches on the origin stay. */
export const outdated = (names: readonly string[], build: string): readonly string[] =>
  names.filter((name) => name.startsWith('levare-') && name !== cacheName(build));

/**
 * The kept file that answers a request; null where it is none of ours to answer (another origin, something that is sent,
 * an address outside of the app). `files`: paths from the app's own address, "" the address itself.
 */
export const keptFile = (
  request: { readonly method: string; readonly url: string },
  scope: string,
  files: ReadonlySet<string>,
): string | null => {
  if (request.method !== 'GET' || !request.url.startsWith(scope)) return null;
  const name = request.url.slice(scope.length).split(/[?#]/, 1)[0] ?? '';
  const file = name === '' ? 'index.html' : name;
  return files.has(file) ? file : null;
};
