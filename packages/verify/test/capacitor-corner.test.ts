import type { Board, Capacitor } from '@curvewright/board';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cornerOf, type Corner } from '../src/capacitor-corner.ts';
import { monoBoard, stageOf } from './stages.ts';

function cornerIn(board: Board, ref: string): Corner | null {
  const part = board.circuit.parts.find(
    (candidate): candidate is Capacitor => candidate.ref === ref && candidate.kind === 'capacitor',
  );
  return cornerOf(stageOf(board.circuit), part!);
}

const highPass = (capacitor: string, series: string): Board =>
  monoBoard(`
    C1: { kind: capacitor, ${capacitor}, between: [in, n] }
    R1: { kind: resistor, value: ${series}, between: [n, out] }
    R2: { kind: resistor, value: 39 kΩ, between: [out, gnd] }`);

// The bisection ends within 1e-4 of the frequency.
const near = 1e-4;

describe('cornerOf', () => {
  it('is 1/(2π R C) with R all the resistance between the leads: the source is ideal', () => {
    const corner = cornerIn(highPass('value: 1 µF', '1 kΩ'), 'C1')!;
    expect(Math.abs(corner.ohms / 40_000 - 1)).toBeLessThan(1e-9);
    expect(Math.abs(corner.hz * 2 * Math.PI * 40_000 * 1e-6 - 1)).toBeLessThan(near);
  });

  it('counts the ESR to what is around, whatever the dielectric loses', () => {
    const corner = cornerIn(highPass('value: 1 µF, esr: 2 kΩ, loss: 0.1', '1 kΩ'), 'C1')!;
    expect(Math.abs(corner.ohms / 42_000 - 1)).toBeLessThan(1e-9);
    expect(Math.abs(corner.hz * 2 * Math.PI * 42_000 * 1e-6 - 1)).toBeLessThan(near);
  });

  it('takes the modulus where what is around is not a resistance alone', () => {
    // 10 H in series with 1 kΩ: |R + jωL| = 1/ωC at ω with (R² + ω²L²) ω²C² = 1.
    const board = monoBoard(`
      C1: { kind: capacitor, value: 10 µF, between: [in, n] }
      L1: { kind: inductor, value: 10 H, between: [n, out] }
      R2: { kind: resistor, value: 1 kΩ, between: [out, gnd] }`);
    const [r2, l2, c2] = [1e6, 100, 1e-10];
    const squared = (-r2 + Math.sqrt(r2 ** 2 + (4 * l2) / c2)) / (2 * l2);
    const corner = cornerIn(board, 'C1')!;
    expect(Math.abs(corner.hz / (Math.sqrt(squared) / (2 * Math.PI)) - 1)).toBeLessThan(near);
  });

  it('makes ohms × farads × 2π × hz one for any values', () => {
    fc.assert(
      fc.property(fc.double({ min: -8, max: -5, noNaN: true }), fc.double({ min: 1, max: 6, noNaN: true }), (c, r) => {
        const [farads, ohms] = [10 ** c, 10 ** r];
        const corner = cornerIn(highPass(`value: ${farads * 1e12} pF, esr: ${ohms / 50} Ω`, `${ohms} Ω`), 'C1')!;
        expect(Math.abs(corner.ohms * farads * 2 * Math.PI * corner.hz - 1)).toBeLessThan(near);
      }),
      { seed: 20261125, numRuns: 60 },
    );
  });

  it('has none where the capacitor stands across an ideal source', () => {
    expect(
      cornerIn(
        monoBoard(
          'C1: { kind: capacitor, value: 1 µF, between: [in, gnd] }\nR1: { kind: resistor, value: 1 kΩ, between: [in, out] }',
        ),
        'C1',
      ),
    ).toBeNull();
  });
});
