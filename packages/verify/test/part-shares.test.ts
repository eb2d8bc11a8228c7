import { readFileSync } from 'node:fs';
import { mergeLimits, readBoard } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { influenceAnswer, noiseAnswer, partShares, shareFigures } from '../src/index.ts';
import { stageOf, valueOf } from './stages.ts';

const seed = new URL('../../../seeds/boards/lk417.board.yaml', import.meta.url);
const stage = stageOf(valueOf(readBoard(readFileSync(seed, 'utf8'), 'b.yaml')).circuit);
const limits = mergeLimits({});

describe('shares of the parts', () => {
  it.each([...shareFigures, { node: 'c1' }])('in %s are of 1 in all, the largest first', (figure) => {
    const { parts } = partShares(stage, 'left', figure, limits)!;
    // A sum of some hundred shares: each adds no more than a rounding of 1.
    expect(parts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const shares = parts.map(({ share }) => share);
    expect(shares).toEqual(shares.toSorted((a, b) => b - a));
    expect(new Set(parts.map(({ ref }) => ref)).size).toBe(parts.length);
  });

  it('are in the proportion of the slopes', () => {
    const rows = influenceAnswer(stage, limits, [20])!.channels[0]!.parts;
    const moves = (ref: string): number =>
      rows.filter((row) => row.ref === ref).reduce((sum, row) => sum + Math.abs(row.deviationDbPerPercent[0]!.db), 0);
    const { parts } = partShares(stage, 'left', 'bass', limits)!;
    const share = (ref: string): number => parts.find((part) => part.ref === ref)!.share;
    expect(share('C103') / share('R111')).toBeCloseTo(moves('C103') / moves('R111'), 10);
    expect(share('R119')).toBeGreaterThan(share('R117'));
  });

  it('in the hiss are those of its power', () => {
    const { shares } = noiseAnswer(stage).channels[0]!;
    const [one, two] = ['R111', 'R107'].map((ref) => shares.find((each) => each.ref === ref)!.share);
    const { parts } = partShares(stage, 'left', 'hiss', limits)!;
    const [first, second] = ['R111', 'R107'].map((ref) => parts.find((each) => each.ref === ref)!.share);
    expect(first! / second!).toBeCloseTo(one! / two!, 10);
  });

  it('know no channel that is not there', () => {
    expect(partShares(stage, 'middle', 'gain', limits)).toBeNull();
  });
});
