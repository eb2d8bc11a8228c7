import { describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

describe('poles', () => {
  const job = repositoryPath('seeds/jobs/lk417.job.yaml');

  it('answers with the fixed keys', () => {
    const answer = runJson('poles', job) as {
      poles: Record<string, unknown>[];
      zeros: Record<string, unknown>[];
      stable: boolean;
      loops: { lead: string }[];
    };
    expect(answer.stable).toBe(true);
    for (const pole of answer.poles)
      expect(Object.keys(pole)).toEqual(['realPerS', 'imagPerS', 'hz', 'q', 'residual', 'parts']);
    for (const zero of answer.zeros)
      expect(Object.keys(zero)).toEqual(['channel', 'realPerS', 'imagPerS', 'hz', 'q', 'residual']);
    expect(answer.loops.map(({ lead }) => lead)).toEqual(['Q103.base', 'Q104.base']);
  });

  it('takes state and cartridge', () => {
    const count = (...more: string[]): number => (runJson('poles', job, ...more) as { poles: unknown[] }).poles.length;
    // The coil of each channel's cartridge, and the capacitance of its cable across it.
    expect(count('--state', 'drawn', '--cartridge', 'MM-A') - count('--state', 'drawn')).toBe(4);
    expect(run('poles', job, '--state', 'found').out).toMatch(/as found: stable/);
  });
});
