import { readFileSync, readdirSync } from 'node:fs';
import { explainGuide } from '@curvewright/report';
import { describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

describe('explain', () => {
  it('explains the code of every broken file', () => {
    const folder = repositoryPath('fixtures/broken');
    const codes = readdirSync(folder)
      .filter((file) => file.endsWith('.yaml'))
      .flatMap((file) => {
        const { errors = [] } = runJson('curve', `${folder}/${file}`) as { errors?: { code: string }[] };
        return errors.map(({ code }) => code);
      });
    expect(new Set(codes).size).toBeGreaterThan(25);
    for (const code of codes) {
      const { status, out } = run('explain', code);
      expect(status).toBe(0);
      expect(out).toMatch(new RegExp(`^${code}\n\n[A-Za-z]`));
    }
  });

  it('explains every finding of a job', () => {
    const { findings } = runJson('check', repositoryPath('seeds/jobs/lk417.job.yaml')) as {
      findings: { what: string }[];
    };
    for (const { what } of findings) expect(run('explain', what).status).toBe(0);
  });

  it('lists all of them, and names what is near a word it does not know', () => {
    expect(run('explain').out).toContain('no-dc-path');
    expect(run('explain', 'bare')).toMatchObject({
      status: 2,
      out: '',
      complaint: expect.stringContaining('bare-number') as string,
    });
    expect(run('explain', 'qqq').complaint).toContain('curvewright explain lists them all');
  });

  it('is the page among the guides, as pnpm guides writes it', () => {
    expect(readFileSync(repositoryPath('shared/guides/faults-and-findings.md'), 'utf8')).toBe(explainGuide());
  });
});
