import { describe, expect, it } from 'vitest';
import { jobFrom, readFixture, seedBoard } from '../../../../tests/seeds/read-seeds.ts';
import { checkJob, solveStage } from '../../src/index.ts';
import { nodeBands, nodeReach } from '../../src/spread/node-bands.ts';

const jobText = readFixture('seeds/jobs/lk417.job.yaml');

/** Where each node of the rebuilt demo job turns from good to look, in percent, by the bare name told. */
function nodeBounds(text: string): Map<string, number> {
  const check = checkJob(jobFrom(text));
  if (!check.ok) throw new Error(check.diagnostics[0]?.message);
  return new Map(
    check.value.findings
      .filter(({ what, state }) => what === 'node_volts' && state === 'rebuilt')
      .map(({ where, value, margin }) => [where, Math.abs(value) + margin]),
  );
}

describe('how far the bias of healthy boards strays', () => {
  const board = seedBoard('lk417');
  const solved = solveStage(board.circuit);
  if (!solved.ok) throw new Error('no bias');
  const stage = solved.value;

  it('is the worst of a run of boards, without the nodes of parts whose spread is open', () => {
    const reach = nodeReach(stage, board.matched);
    // The bias diode states no tolerance of its drop.
    expect(reach.has('vq')).toBe(false);
    const { nominalV, worstLowV, worstHighV } = nodeBands(stage, board.matched).find(({ node }) => node === 'vdd')!;
    expect(reach.get('vdd')).toBe(Math.max(worstHighV - nominalV, nominalV - worstLowV));
  });

  it(
    'is what `check` holds node voltages against, where the file sets no percents of its own',
    { timeout: 120_000 },
    () => {
      const { nominalV } = nodeBands(stage, board.matched).find(({ node }) => node === 'vdd')!;
      const own = (100 * nodeReach(stage, board.matched).get('vdd')!) / nominalV;
      const [usual] = [...nodeBounds(jobText).values()];
      // vdd has the least margin.
      expect(usual).toBeCloseTo(own, 9);
      const [set] = [
        ...nodeBounds(`${jobText.replace(/^limits:.*$/m, '')}\nlimits: { node_volts: { good: 7 % } }\n`).values(),
      ];
      expect(set).toBeCloseTo(7, 9);
    },
  );
});
