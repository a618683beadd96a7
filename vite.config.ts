import path from 'node:path';
import { defineConfig, type Plugin } from 'vite';
import { contentPolicy } from './scripts/content-policy.mjs';
import { keeper, offlineFiles } from './scripts/offline-files.mjs';

/** The built pages say themselves that nothing may come from elsewhere. (While developing, styles come inline.) */
const withPolicy: Plugin = {
  name: 'levare-content-policy',
  apply: 'build',
  transformIndexHtml: () => [
    {
      tag: 'meta',
      attrs: { 'http-equiv': 'Content-Security-Policy', content: contentPolicy },
      injectTo: 'head-prepend',
    },
  ],
};

export default defineConfig({
  root: 'src/app',
  base: './',
  plugins: [withPolicy, offlineFiles(path.resolve(import.meta.dirname, 'src/app/public'))],
  server: { host: '127.0.0.1', fs: { allow: ['../..'] } },
  worker: { format: 'es' },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: '../../dist-app',
    emptyOutDir: true,
    target: 'es2022',
    // Nothing is inlined: the content policy allows files of this origin only, for worklets and fonts too.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // The engraver is large, and loaded by a thread of its own when it is needed.
    chunkSizeWarningLimit: 8000,
    rolldownOptions: {
      input: {
        index: 'src/app/index.html',
        hearing: 'src/app/hearing.html',
        offline: 'src/host/browser/offline.sw.ts',
      },
      output: { entryFileNames: ({ name }) => (name === 'offline' ? keeper : 'assets/[name]-[hash].js') },
    },
  },
});
