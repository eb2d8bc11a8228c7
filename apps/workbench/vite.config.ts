import { defineConfig, type UserConfig } from 'vite';

/** Builds the page; the server beside it serves what lies in dist/page. */
const config: UserConfig = defineConfig({
  root: new URL('src/page', import.meta.url).pathname,
  base: './',
  build: {
    outDir: new URL('dist/page', import.meta.url).pathname,
    emptyOutDir: true,
    target: 'es2023',
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
  },
  worker: { format: 'es' },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
});

export default config;
