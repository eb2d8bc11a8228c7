import { spawnSync, type SpawnSyncReturns } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { repositoryPath } from './recording-desk.ts';

/** The real command in a process of its own. */
function curvewright(...words: string[]): SpawnSyncReturns<string> {
  return spawnSync(process.execPath, ['--import', 'tsx', repositoryPath('apps/cli/src/main.ts'), ...words], {
    encoding: 'utf8',
    cwd: repositoryPath(''),
  });
}

describe('the command as a process', () => {
  it('prints only JSON on standard output with --json', () => {
    const { status, stdout, stderr } = curvewright('check', 'seeds/jobs/lk417.job.yaml', '--json');
    expect(status).toBe(0);
    expect(stderr).toBe('');
    expect((JSON.parse(stdout) as { verdict: string }).verdict).toBe('look');
  });

  it('says on standard error what is wrong with a file, and ends with 2', () => {
    const { status, stdout, stderr } = curvewright('check', 'fixtures/broken/bare-number.board.yaml');
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(/^fixtures\/broken\/bare-number\.board\.yaml:\d+:\d+: /);
  });

  it('helps', () => {
    const { status, stdout } = curvewright('--help');
    expect(status).toBe(0);
    for (const verb of ['check', 'curve', 'volts', 'new']) expect(stdout).toContain(verb);
  });
});
