import { targetDb } from '@curvewright/curves';
import { describe, expect, it } from 'vitest';
import { curveAnswer } from '../src/index.ts';
import { idealAmplifier, idealEqualiser, monoBoard, stageOf } from './stages.ts';

const stage = stageOf(
  monoBoard(`${idealEqualiser}\nR9: { kind: resistor, value: 10 kΩ, between: [o, out] }`, idealAmplifier).circuit,
);

describe('curveAnswer', () => {
  it('answers in the order asked, gain less target less the gain at 1 kHz being the deviation', () => {
    const frequencies = [1000, 20, 20_000, 20];
    const { channels } = curveAnswer(stage, 'riaa', frequencies);
    const [{ name, points }] = channels as [(typeof channels)[number]];
    expect(name).toBe('mono');
    expect(points.map(({ hz }) => hz)).toEqual(frequencies);
    for (const { hz, gainDb, targetDb: target, deviationDb } of points) {
      expect(target).toBe(targetDb('riaa', hz));
      // An exact equaliser, held as closed forms are throughout.
      expect(Math.abs(deviationDb)).toBeLessThan(1e-9);
      expect(gainDb - points[0]!.gainDb).toBeCloseTo(target, 9);
    }
  });

  it('lacks by the 1976 target what its 7950 µs take away', () => {
    const { target, channels } = curveAnswer(stage, 'riaa-1976', [20]);
    expect(target).toBe('riaa-1976');
    // IEC 60098 with the amendment: 16.261 dB at 20 Hz where the curve without it has 19.274 (computed from the formula).
    expect(channels[0]!.points[0]!.targetDb).toBeCloseTo(16.261, 3);
    expect(channels[0]!.points[0]!.deviationDb).toBeCloseTo(19.274 - 16.261, 2);
  });
});
