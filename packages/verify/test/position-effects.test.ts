import { circuitOf, type Job } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { positionEffects, type PositionEffect } from '../src/position-effects.ts';
import { equaliser, jobWith } from './equaliser-job.ts';
import { jobOn, monoBoard, probeOf } from './stages.ts';

const effects = (job: Job): readonly PositionEffect[] =>
  positionEffects(job, probeOf(circuitOf(job, 'drawn')!.circuit), circuitOf(job, 'rebuilt')!.changed);

/** dB that a coupling capacitor with 10 kΩ costs at a frequency. */
const loss = (hz: number, microfarads: number): number =>
  10 * Math.log10(1 + (1 / (2 * Math.PI * hz * 0.01 * microfarads)) ** 2);

describe('positionEffects', () => {
  it('is what each fitted position does when it alone is done', () => {
    const job = jobWith(`
      C109: { fit: { value: 1 µF } }
      R101/R102: { fit: { value: 30 kΩ } }`);
    const all = effects(job);
    expect(all.map(({ ref }) => ref).sort()).toEqual(['C109', 'R101', 'R102']);
    const [c109, r102] = ['C109', 'R102'].map((ref) => all.find((effect) => effect.ref === ref));
    // The capacitor as if the resistors were left: closed form, and nothing at 10 kHz.
    const re1k = (hz: number): number => loss(hz, 4.7) - loss(hz, 1) - (loss(1000, 4.7) - loss(1000, 1));
    expect(c109!.channel).toBe('left');
    expect(c109!.moves!.at20HzDb).toBeCloseTo(re1k(20), 8);
    expect(c109!.moves!.gainDb).toBeCloseTo(loss(1000, 4.7) - loss(1000, 1), 8);
    expect(c109!.moves!.balanceDb).toBeCloseTo(loss(30, 1) - loss(30, 4.7), 6);
    expect(r102!.channel).toBe('right');
    expect(r102!.moves!.gainDb).toBeCloseTo(20 * Math.log10(27 / 30), 8);
    expect(Math.abs(r102!.moves!.at10kHzDb)).toBeLessThan(1e-9);
  });

  it('stands in the channel of its position, also where nothing is put there', () => {
    const [removed] = effects(jobWith('C106: { fit: none }'));
    expect([removed!.ref, removed!.channel]).toEqual(['C106', 'right']);
    expect(removed!.moves!.at10kHzDb).toBeGreaterThan(1);
  });

  it('names the node that moves most, in millivolts', () => {
    const board = monoBoard(
      `
      R1: { kind: resistor, value: 10 kΩ, between: [in, out] }
      R2: { kind: resistor, value: 1 kΩ, between: [vcc, v] }
      R3: { kind: resistor, value: 1 kΩ, between: [v, w] }
      R4: { kind: resistor, value: 1 kΩ, between: [w, gnd] }`,
      'rails: { vcc: { volts: 9 V } }',
    );
    const [effect] = effects(jobOn(board, 'R2: { fit: { value: 2 kΩ } }'));
    // 6 V becomes 4.5 V at v, 3 V becomes 2.25 V at w.
    expect(effect!.moves!.node).toBe('v');
    expect(effect!.moves!.nodeMv).toBeCloseTo(-1500, 9);
    expect(effect!.moves!.balanceDb).toBeNull();
  });

  it('is null where the position alone leaves no bias, and silent on what is not fitted', () => {
    const [effect] = effects(
      jobWith('R102: { fit: { value: 33 kΩ } }\nC110: { fit: none }\nR109: { why: left in }'),
    ).filter(({ ref }) => ref === 'C110');
    // Without C110 the output is held by R110 alone, which is a bias still.
    expect(effect!.moves).not.toBeNull();
    const removed = effects(jobWith('R110: { fit: none }'));
    expect(removed).toEqual([
      { ref: 'R110', description: expect.any(String) as string, channel: 'right', moves: null },
    ]);
    expect(effects(jobOn(equaliser, 'R109: { why: left in }'))).toEqual([]);
  });
});
