import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');
const CRUISER = join(ROOT, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
const PACKAGES = ['quantity', 'curves', 'solver', 'board', 'devices', 'network', 'capture', 'verify', 'report'];

interface Case {
  readonly file: string;
  readonly imports: string;
  /** The rules that must fire on this import; empty: allowed. */
  readonly rules: readonly string[];
}

const layer = (from: string, to: string, rules: readonly string[]): Case => ({
  file: `packages/${from}/src/uses-${to}.ts`,
  imports: `@curvewright/${to}`,
  rules,
});
const down = (from: string, to: string): Case => layer(from, to, []);
const notDown = (from: string, to: string): Case => layer(from, to, [`layer-${from}`]);

const CASES: readonly Case[] = [
  down('board', 'quantity'),
  down('devices', 'board'),
  down('network', 'devices'),
  down('network', 'solver'),
  down('verify', 'network'),
  down('verify', 'capture'),
  down('verify', 'curves'),
  down('report', 'verify'),
  notDown('curves', 'quantity'),
  notDown('quantity', 'curves'),
  notDown('quantity', 'board'),
  notDown('board', 'devices'),
  notDown('devices', 'solver'),
  notDown('solver', 'devices'),
  notDown('solver', 'board'),
  notDown('solver', 'quantity'),
  notDown('network', 'capture'),
  notDown('capture', 'network'),
  notDown('network', 'verify'),
  notDown('verify', 'report'),
  { file: 'packages/board/src/by-path.ts', imports: '../../network/src/index.ts', rules: ['layer-board'] },
  { file: 'packages/network/src/deep.ts', imports: '../../solver/src/inner.ts', rules: ['not-past-the-index'] },
  { file: 'packages/network/src/near.ts', imports: './inner.ts', rules: [] },
  { file: 'packages/report/src/app.ts', imports: '../../../apps/cli/src/inner.ts', rules: ['package-not-to-app'] },
  { file: 'packages/report/src/tested.ts', imports: '../test/helper.ts', rules: ['not-to-tests'] },
  { file: 'packages/report/src/lost.ts', imports: './nowhere.ts', rules: ['resolvable'] },
  { file: 'packages/report/test/deep.ts', imports: '../../solver/src/inner.ts', rules: [] },
  { file: 'packages/report/test/any.ts', imports: '../../../apps/cli/src/inner.ts', rules: [] },
  { file: 'packages/newcomer/src/floorless.ts', imports: '../../solver/src/index.ts', rules: ['unknown-package'] },
  { file: 'apps/cli/src/index-only.ts', imports: '@curvewright/report', rules: [] },
  {
    file: 'apps/cli/src/deep.ts',
    imports: '../../../packages/solver/src/inner.ts',
    rules: ['app-not-past-the-index'],
  },
  {
    file: 'apps/cli/src/other.ts',
    imports: '../../workbench/src/inner.ts',
    rules: ['app-not-to-app', 'open-by-the-index'],
  },
  { file: 'apps/cli/src/verbs/open.ts', imports: '../../../workbench/src/inner.ts', rules: ['open-by-the-index'] },
  { file: 'apps/workbench/src/page/near.ts', imports: '../server/store.ts', rules: ['bench-page'] },
  { file: 'apps/workbench/src/contract/near.ts', imports: '../page/near.ts', rules: ['bench-contract'] },
  { file: 'apps/workbench/src/compute/near.ts', imports: '../contract/near.ts', rules: [] },
  { file: 'apps/cli/src/tested.ts', imports: '../../../tests/helper.ts', rules: ['not-to-tests'] },
  { file: 'packages/verify/src/egg.ts', imports: './hen.ts', rules: ['no-circular'] },
  // The same circle again, which is reported once.
  { file: 'packages/verify/src/hen.ts', imports: './egg.ts', rules: [] },
  { file: 'tests/any.ts', imports: '../packages/solver/src/inner.ts', rules: [] },
];

interface CruiseResult {
  readonly summary: {
    readonly violations: readonly { readonly from: string; readonly rule: { readonly name: string } }[];
  };
}

let tree: string;
let fired: Map<string, string[]>;

async function put(path: string, text: string): Promise<void> {
  await mkdir(dirname(join(tree, path)), { recursive: true });
  await writeFile(join(tree, path), text);
}

async function standInWorkspace(): Promise<void> {
  await mkdir(join(tree, 'node_modules/@curvewright'), { recursive: true });
  for (const name of PACKAGES) {
    await put(`packages/${name}/package.json`, JSON.stringify({ type: 'module', exports: './src/index.ts' }));
    await put(`packages/${name}/src/index.ts`, 'export type Thing = number;\n');
    await put(`packages/${name}/src/inner.ts`, 'export type Thing = number;\n');
    await put(`packages/${name}/test/helper.ts`, 'export type Thing = number;\n');
    await symlink(join(tree, 'packages', name), join(tree, 'node_modules/@curvewright', name));
  }
  for (const path of [
    'apps/cli/src/inner.ts',
    'apps/workbench/src/inner.ts',
    'apps/workbench/src/server/store.ts',
    'tests/helper.ts',
  ])
    await put(path, 'export type Thing = number;\n');
  // Type-only on purpose: the layers hold for types as well.
  for (const { file, imports } of CASES)
    await put(file, `import type { Thing } from '${imports}';\nexport type Used = Thing;\n`);
}

async function rulesFired(): Promise<Map<string, string[]>> {
  const config = join(ROOT, '.dependency-cruiser.cjs');
  const args = [CRUISER, 'packages', 'apps', 'tests', '--config', config, '--output-type', 'json'];
  const { stdout } = await promisify(execFile)(process.execPath, args, { cwd: tree, maxBuffer: 2 ** 26 });
  const result = JSON.parse(stdout) as CruiseResult;
  const names = new Map<string, string[]>();
  for (const { from, rule } of result.summary.violations) names.set(from, [...(names.get(from) ?? []), rule.name]);
  return names;
}

beforeAll(async () => {
  tree = await mkdtemp(join(tmpdir(), 'curvewright-layers-'));
  await standInWorkspace();
  fired = await rulesFired();
});
afterAll(() => rm(tree, { recursive: true }));

describe('the layer rule', () => {
  test.each(CASES)('$file importing $imports: $rules', ({ file, rules }) => {
    expect(fired.get(file) ?? []).toEqual(rules);
  });
});
