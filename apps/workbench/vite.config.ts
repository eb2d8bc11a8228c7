import { defineConfig, type UserConfig } from 'vite';
import { withoutJsonSchema } from './without-json-schema.ts';

const path = (relative: string): string => new URL(relative, import.meta.url).pathname;

/** Neither our packages nor this library do anything when they are loaded: what a chunk does not use of them stays out of it. */
const treeshake = {
  moduleSideEffects: [{ test: /[\\/](packages[\\/][a-z]+[\\/]src|complex\.js)[\\/]/, sideEffects: false }],
};

/** Builds the page; the server beside it serves what lies in dist/page. */
const config: UserConfig = defineConfig({
  root: path('src/page'),
  base: './',
  resolve: {
    // The whole library is heavier than all else that the page loads.
    alias: { 'mathjs/lib/browser/math.js': path('../../packages/quantity/src/decimal-units.ts') },
  },
  build: {
    outDir: path('dist/page'),
    emptyOutDir: true,
    target: 'es2023',
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    rolldownOptions: { treeshake },
  },
  worker: { format: 'es', plugins: () => [withoutJsonSchema()], rolldownOptions: { treeshake } },
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
});

export default config;
