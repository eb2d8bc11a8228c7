import { circuitOf, circuitWithValue, mergeLimits } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { curveFrequencies, gainReader, liveStage, stageSheet } from '../src/index.ts';
import { jobWith } from './equaliser-job.ts';
import { stageOf } from './stages.ts';

const limits = mergeLimits();
const { circuit } = circuitOf(jobWith(), 'drawn')!;
const live = liveStage(stageOf(circuit), limits)!;

describe('curveFrequencies', () => {
  it('has the edges of the bands among ascending frequencies', () => {
    const odd = { ...limits, deviation: { ...limits.deviation, from: 33, to: 12_345 } };
    const hz = [...curveFrequencies(odd)];
    expect(hz).toEqual([...new Set(hz)].sort((a, b) => a - b));
    for (const named of [2, 20, 33, 1000, 12_345, 100_000]) expect(hz).toContain(named);
  });
});

describe('liveStage', () => {
  it('does what a stage with that value does', () => {
    const moved = live.move(['C110'], 0.47e-6)!;
    const stage = stageOf(circuitWithValue(circuit, 'C110', 0.47e-6));
    const [reader, sheet] = [gainReader(stage), stageSheet(stage, limits)];
    const hz = curveFrequencies(limits);
    moved.deviationDb.forEach((curve, c) => {
      // Two eliminations in another order: some hundred roundings of gains near 1.
      curve.forEach((db, n) => {
        expect(db).toBeCloseTo(reader.deviationDb(c, hz[n]!), 9);
      });
      expect(moved.gainDb[c]).toBeCloseTo(reader.gainDb(c, 1000), 9);
      expect(moved.at20HzDb[c]).toBeCloseTo(reader.deviationDb(c, 20), 9);
      // Worst at the edge of the band, which is on the grid.
      expect(moved.worstDb[c]).toBeCloseTo(sheet.channels[c]!.worstDeviationDb, 6);
    });
    expect(moved.worstDb[1]).toBeLessThan(-3);
    expect(moved.balanceDb).toBeCloseTo(sheet.balanceDb!, 6);
  });

  it('starts every move from the values of the stage, and keeps what it gave before', () => {
    const first = live.move(['C109', 'C110'], 1e-6)!;
    const curve = first.deviationDb[0]!.slice();
    live.move(['R109'], 1e3);
    expect(first.deviationDb[0]).toEqual(curve);
    expect(live.move(['C109', 'C110'], 1e-6)!.deviationDb[0]).toEqual(curve);
  });

  it('knows what can be moved', () => {
    expect(live.nominals.get('C109')).toBeCloseTo(4.7e-6, 18);
    expect(live.nominals.has('U101A')).toBe(false);
    expect(() => live.move(['U101A'], 1)).toThrow(RangeError);
  });
});
