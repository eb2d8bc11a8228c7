import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';

const root = new URL('../../', import.meta.url).pathname;
const readme = readFileSync(join(root, 'README.md'), 'utf8');
const folder = mkdtempSync(join(tmpdir(), 'curvewright-readme-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

/** The commands of the walk, in the README's order, with the reader's bench in a folder of this test. */
const walk = [...readme.matchAll(/^pnpm run --silent curvewright (.+)$/gm)].map(([, words]) =>
  words!.replaceAll('~/bench', folder).replace('--csv found.csv', `--csv ${folder}/found.csv`).split(' '),
);

describe('the README', () => {
  it('walks from an empty folder to a verdict with commands that work', () => {
    expect(walk.length).toBeGreaterThanOrEqual(5);
    for (const words of walk) {
      const ran = spawnSync(process.execPath, ['--import', 'tsx', 'apps/cli/src/main.ts', ...words], {
        cwd: root,
        encoding: 'utf8',
      });
      expect([words.join(' '), ran.status, ran.stderr]).toEqual([words.join(' '), 0, '']);
    }
    expect(existsSync(join(folder, 'found.csv'))).toBe(true);
  }, 60_000);

  it('names the two commands that package.json has', () => {
    const { scripts, packageManager } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
      scripts: Record<string, string>;
      packageManager: string;
    };
    for (const script of ['start', 'test']) {
      expect(readme).toContain(`npx -y ${packageManager} ${script}`);
      expect(scripts[script]).toBeDefined();
    }
  });
});
