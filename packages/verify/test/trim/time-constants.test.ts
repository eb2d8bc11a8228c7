import { circuitWithValue } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { timeConstants } from '../../src/trim/time-constants.ts';
import { demoJob } from '../choose/choosing.ts';
import { equaliser } from '../equaliser-job.ts';
import { stageOf } from '../stages.ts';

describe('the time constants of a stage', () => {
  it('are each channel’s own, though both have their poles close to one another', () => {
    const circuit = circuitWithValue(equaliser.circuit, 'C106', 1.04 * (75e-6 / 24_300));
    const [left, right] = timeConstants(stageOf(circuit));
    // R103 C103 and R105 C105, by the board; poles and zeros of separate channels cancel to what rounding leaves, 1e-9.
    expect(left!.T1! * 1e6).toBeCloseTo(3180, 4);
    expect(left!.T2! * 1e6).toBeCloseTo(318, 1);
    expect(left!.T3! * 1e6).toBeCloseTo(75, 6);
    expect(right!.T3! * 1e6).toBeCloseTo(78, 6);
    expect(right!.T1! * 1e6).toBeCloseTo(3180, 4);
  });

  it('are found on a board whose channels share supply and bias', () => {
    const { board } = demoJob();
    const [left, right] = timeConstants(stageOf(board.circuit));
    // Drawn alike, so alike; near the curve's own, for its deviation above 100 Hz is below half a dB.
    for (const name of ['T1', 'T2', 'T3', 'T4'] as const) expect(left![name]! / right![name]!).toBeCloseTo(1, 6);
    expect(left!.T2! / 318e-6).toBeCloseTo(1, 1);
    expect(left!.T3! / 75e-6).toBeCloseTo(1, 1);
    // 1.2 µs: the feedback network's own end at the leg, 133 kHz.
    expect(1 / (2 * Math.PI * left!.T4!)).toBeGreaterThan(100e3);
  });

  it('are none where there is no equaliser', () => {
    const bypassed = ['C103', 'C104', 'C105', 'C106'].reduce(
      (circuit, ref) => circuitWithValue(circuit, ref, 1e-12),
      equaliser.circuit,
    );
    expect(timeConstants(stageOf(bypassed))[0]).toMatchObject({ T1: null, T3: null });
  });
});
