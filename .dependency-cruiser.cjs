/**
 * Each package, and what it may import of ours. Imports go down only; packages on one floor do not know each other.
 * @type {Record<string, string[]>}
 */
const MAY_IMPORT = {
  quantity: [],
  curves: [],
  solver: [],
  board: ['quantity', 'curves'],
  devices: ['quantity', 'curves', 'board'],
  network: ['quantity', 'curves', 'board', 'devices', 'solver'],
  capture: ['quantity', 'curves', 'board', 'devices', 'solver'],
  verify: ['quantity', 'curves', 'board', 'devices', 'solver', 'network', 'capture'],
  report: ['quantity', 'curves', 'board', 'devices', 'solver', 'network', 'capture', 'verify'],
};

const known = Object.keys(MAY_IMPORT).join('|');
const TESTS = '(^tests/)|(/test/)';

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    ...Object.entries(MAY_IMPORT).map(([name, below]) => ({
      name: `layer-${name}`,
      comment: `${name} may import of ours: ${below.join(', ') || 'nothing'}.`,
      severity: 'error',
      from: { path: `^packages/${name}/src/` },
      to: { path: '^packages/', pathNot: `^packages/(${[name, ...below].join('|')})/` },
    })),
    {
      name: 'unknown-package',
      comment: 'Give a new package its floor in MAY_IMPORT.',
      severity: 'error',
      from: { path: '^packages/', pathNot: `^packages/(${known})/` },
      to: {},
    },
    {
      name: 'not-past-the-index',
      comment: "What a package's index.ts does not export is the package's own business.",
      severity: 'error',
      from: { path: '^packages/([^/]+)/src/' },
      to: { path: '^packages/[^/]+/src/', pathNot: ['^packages/$1/', '^packages/[^/]+/src/index\\.ts$'] },
    },
    {
      name: 'app-not-past-the-index',
      comment: "What a package's index.ts does not export is the package's own business.",
      severity: 'error',
      from: { path: '^apps/[^/]+/src/' },
      to: { path: '^packages/[^/]+/src/', pathNot: '^packages/[^/]+/src/index\\.ts$' },
    },
    {
      name: 'package-not-to-app',
      comment: 'The apps stand on the packages, never the other way round.',
      severity: 'error',
      from: { path: '^packages/[^/]+/src/' },
      to: { path: '^apps/' },
    },
    {
      name: 'app-not-to-app',
      comment: 'What two apps need belongs in a package; the terminal alone may start the bench, through its index.',
      severity: 'error',
      from: { path: '^apps/([^/]+)/src/', pathNot: '^apps/cli/src/verbs/open\\.ts$' },
      to: { path: '^apps/', pathNot: '^apps/$1/' },
    },
    {
      name: 'open-by-the-index',
      comment: 'The terminal knows of the bench only how to start its server.',
      severity: 'error',
      from: { path: '^apps/cli/src/' },
      to: { path: '^apps/workbench/', pathNot: '^apps/workbench/src/server/index\\.ts$' },
    },
    ...[
      ['server', 'contract'],
      ['contract', ''],
      ['compute', 'contract'],
      ['page', 'contract'],
    ].map(([room, below]) => ({
      name: `bench-${room}`,
      comment: 'Page, worker and server know each other by their contract alone; the page starts the worker file.',
      severity: 'error',
      from: { path: `^apps/workbench/src/${room}/` },
      to: {
        path: '^apps/workbench/src/',
        pathNot: `^apps/workbench/src/(${[room, below].filter(Boolean).join('|')})/`,
      },
    })),
    {
      name: 'not-to-tests',
      comment: 'What is delivered does not lean on test code.',
      severity: 'error',
      from: { path: '^(packages|apps)/', pathNot: TESTS },
      to: { path: TESTS },
    },
    {
      name: 'no-circular',
      comment: 'Two files that need each other are one file, or lack a third.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'resolvable',
      comment: 'The import leads nowhere.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(^|/)dist/' },
    // An import of types alone is a dependency too.
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'node', 'default'] },
  },
};
