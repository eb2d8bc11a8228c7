import type { BipolarType, Circuit, OpAmpType } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import {
  compileNetwork,
  linearise,
  returnRatio,
  solveBias,
  withLoopLink,
  type LoopLead,
  type ReturnRatio,
} from '../src/index.ts';
import { capacitor, circuit, rail, resistor, typed } from './circuits.ts';
import { biased } from './solved.ts';

function ratioAt(board: Circuit, at: LoopLead): ReturnRatio {
  const linked = withLoopLink(board, at);
  if (linked === null) throw new Error('no such lead');
  const network = compileNetwork(linked);
  const bias = solveBias(network);
  if (!bias.ok) throw new Error(bias.diagnostic.message);
  return returnRatio(network, bias.point, at);
}

/** A backward-stable solve of a dozen unknowns, times what the injections' ratios cancel. */
const rounding = 1e-11;

function expectRatio(found: readonly [number, number] | null, [re, im]: readonly [number, number]): void {
  expect(Math.hypot(found![0] - re, found![1] - im) / Math.hypot(re, im)).toBeLessThan(rounding);
}

describe('the return ratio', () => {
  const type: OpAmpType = { kind: 'opamp', gain: 1e5, GBW: 1e6 };
  const follower = circuit(
    [],
    [
      resistor('R9', 1e4, 'in', 'gnd'),
      typed('U1', type, { plus: 'in', minus: 'm', out: 'out' }),
      resistor('R1', 9e3, 'out', 'm'),
      resistor('R2', 1e3, 'm', 'gnd'),
      capacitor('C1', 1e-9, 'out', 'm'),
    ],
  );

  it.each([10, 1e3, 1e5, 1e7])('of an op-amp is A(f)·β at both of its leads, at %d Hz', (hz) => {
    // A = 1/(1/A0 + jf/GBW); β of R1 ∥ C1 over R2.
    const w = 2 * Math.PI * hz;
    const [yr, yi] = [1 / 9e3, w * 1e-9];
    const [dr, di] = [yr + 1e-3, yi];
    const d = dr * dr + di * di;
    const [br, bi] = [(yr * dr + yi * di) / d, (yi * dr - yr * di) / d];
    const [ar, ai] = [1e-5, hz / 1e6];
    const a = ar * ar + ai * ai;
    const expected = [(br * ar + bi * ai) / a, (bi * ar - br * ai) / a] as const;
    expectRatio(ratioAt(follower, { ref: 'U1', lead: 'minus' })(hz), expected);
    expectRatio(ratioAt(follower, { ref: 'U1', lead: 'out' })(hz), expected);
  });

  const npn: BipolarType = { kind: 'npn', hFE: [{ value: 150, at: 1e-3 }], VBE: { value: 0.62, at: 1e-3 } };
  const shunt = circuit(
    [rail('vcc', 10)],
    [
      resistor('R1', 5e3, 'in', 'b'),
      resistor('R2', 68e3, 'out', 'b'),
      resistor('R3', 3.3e3, 'vcc', 'out'),
      typed('Q1', npn, { collector: 'out', base: 'b', emitter: 'gnd' }),
    ],
  );

  it('of a transistor with shunt feedback, where impedances meet, is gm·RC·Rb/(RC + RF + Rb), at base and collector alike', () => {
    // Textbook: 1 A into the collector, what comes to the base, times gm; Rb = RS ∥ rπ.
    const { network, point } = biased(shunt);
    const { size, conductance } = linearise(network, point);
    const [base, collector] = [network.nodes.get('b')!, network.nodes.get('out')!];
    // Node equations: what the base's voltage draws out of the collector beside R2, and out of the base beside R1 and R2.
    const gm = conductance[collector * size + base]! + 1 / 68e3;
    const rb = 1 / conductance[base * size + base]!;
    const besideFeedback = 1 / (1 / rb - 1 / 68e3);
    const expected = (gm * 3.3e3 * besideFeedback) / (3.3e3 + 68e3 + besideFeedback);
    expect(expected).toBeGreaterThan(1);
    for (const lead of ['base', 'collector']) {
      const [re, im] = ratioAt(shunt, { ref: 'Q1', lead })(1000)!;
      // Saturation leaves a slope of the base-collector junction behind, e^(−vbc/VT) of the currents: under 1e-9 here.
      expect(Math.abs(re / expected - 1)).toBeLessThan(1e-9);
      expect(Math.abs(im)).toBeLessThan(1e-9);
    }
  });

  it('is not to be had at a part or lead that is not there', () => {
    expect(withLoopLink(shunt, { ref: 'Q9', lead: 'base' })).toBeNull();
    expect(withLoopLink(shunt, { ref: 'Q1', lead: 'grid' })).toBeNull();
    expect(withLoopLink(shunt, { ref: 'R1', lead: '1' })).toBeNull();
    expect(withLoopLink(shunt, { ref: 'Q1', lead: 'emitter' })).toBeNull();
  });
});
