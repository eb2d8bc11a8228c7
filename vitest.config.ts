import { defineConfig, type ViteUserConfig } from 'vitest/config';

const inCi = process.env.CI === 'true';

const config: ViteUserConfig = defineConfig({
  test: {
    projects: [
      // Pure rooms keep nothing between calls: their files share one set of modules, which saves most of the loading.
      {
        extends: true,
        test: { name: 'packages', include: ['packages/*/test/**/*.test.ts'], isolate: false },
      },
      {
        extends: true,
        test: { name: 'whole', include: ['apps/*/test/**/*.test.{ts,tsx}', 'tests/**/*.test.ts'] },
      },
    ],
    pool: 'threads',
    maxWorkers: 2,
    // A single check that takes longer belongs into smaller ones; tests that must run longer say so themselves.
    testTimeout: 20_000,
    hookTimeout: 60_000,
    // The counts that the CI prints at the end come from this file.
    reporters: inCi ? ['default', ['json', { outputFile: 'coverage/tests.json' }]] : ['default'],
    coverage: { provider: 'v8', include: ['packages/*/src/**/*.ts', 'apps/*/src/**/*.ts'], reporter: ['text', 'html'] },
  },
});

export default config;
