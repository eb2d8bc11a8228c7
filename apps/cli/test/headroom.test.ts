import { describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

const job = repositoryPath('seeds/jobs/lk417.job.yaml');
const board = repositoryPath('seeds/boards/lk630.board.yaml');

interface Headroom {
  channels: {
    name: string;
    overload: { hz: number; inputMv: number; limitedBy: string }[];
    points: { hz: number; inputMv: number; thdPercent: number }[];
  }[];
}

describe('headroom', () => {
  it('answers with the fixed keys', () => {
    const { channels } = runJson('headroom', job) as unknown as Headroom;
    expect(channels.map(({ name }) => name)).toEqual(['left', 'right']);
    for (const { overload, points } of channels) {
      expect(overload.map(({ hz }) => hz)).toEqual([20, 100, 1000, 10_000, 20_000]);
      for (const { inputMv, limitedBy } of overload) {
        expect(inputMv).toBeGreaterThan(5);
        expect(limitedBy).toMatch(/^Q10\d$/);
      }
      expect(points).toContainEqual(expect.objectContaining({ hz: 1000, inputMv: 5 }));
    }
  });

  it('prints a page', () => {
    const { status, out } = run('headroom', board);
    expect(status).toBe(0);
    expect(out).toContain('U101A, all of the distortion');
  });
});
