import type { BipolarType, Circuit, Part } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { amplifierState, currentInto, deviceCurrents, nodeVolts, railAmps } from '../src/index.ts';
import { capacitor, circuit, inductor, rail, resistor, typed } from './circuits.ts';
import { biased } from './solved.ts';

function currents(stage: Circuit): (ref: string, node: string) => number {
  const { network, point } = biased(stage);
  return (ref, node) => currentInto(network, point, ref, node);
}

describe('bias current into a part at a node', () => {
  it('is positive where it enters, from the higher node', () => {
    const into = currents(
      circuit([rail('vcc', 10)], [resistor('R1', 4e3, 'vcc', 'out'), resistor('R2', 1e3, 'out', 'gnd')]),
    );
    expect(into('R1', 'vcc')).toBeCloseTo(2e-3, 15);
    expect(into('R1', 'out')).toBeCloseTo(-2e-3, 15);
    expect(into('R2', 'out')).toBeCloseTo(2e-3, 15);
    expect(into('R2', 'gnd')).toBeCloseTo(-2e-3, 15);
  });

  it('passes through coils, zero-ohm links and a capacitor’s leakage', () => {
    const parts: Part[] = [
      inductor('L1', 1e-3, 0, 'vcc', 'a'),
      resistor('R1', 0, 'b', 'a'),
      resistor('R2', 1e3, 'b', 'out'),
      capacitor('C1', 1e-6, 'out', 'gnd', { leakage: 4e3, esr: 10 }),
    ];
    const into = currents(circuit([rail('vcc', 10)], parts));
    expect(into('L1', 'vcc')).toBeCloseTo(2e-3, 15);
    expect(into('L1', 'a')).toBeCloseTo(-2e-3, 15);
    expect(into('R1', 'a')).toBeCloseTo(2e-3, 15);
    expect(into('R1', 'b')).toBeCloseTo(-2e-3, 15);
    expect(into('C1', 'out')).toBeCloseTo(2e-3, 15);
    expect(into('C1', 'gnd')).toBeCloseTo(-2e-3, 15);
  });

  it('meets what a transistor takes at its base, also through its base resistance', () => {
    const npn: BipolarType = { kind: 'npn', hFE: [{ value: 80, at: 0 }], VBE: { value: 0.6, at: 1e-3 }, rbb: 300 };
    const stage = circuit(
      [rail('vcc', 10)],
      [
        resistor('R1', 470e3, 'vcc', 'b'),
        resistor('R2', 2.2e3, 'vcc', 'out'),
        typed('Q1', npn, { collector: 'out', base: 'b', emitter: 'gnd' }),
      ],
    );
    const { network, point } = biased(stage);
    const { base, collector, emitter } = deviceCurrents(network, point, 'Q1') as Record<
      'base' | 'collector' | 'emitter',
      number
    >;
    // Kirchhoff's sum at a node of microamperes is good to 1e-12 A.
    expect(Math.abs(base + currentInto(network, point, 'R1', 'b'))).toBeLessThan(1e-11);
    expect(Math.abs(collector + currentInto(network, point, 'R2', 'out'))).toBeLessThan(1e-11);
    expect(collector + base + emitter).toBeCloseTo(0, 15);
    expect(railAmps(network, point, 'vcc')).toBeCloseTo(base + collector, 11);
  });
});

describe('what a rail delivers', () => {
  it('is positive out of the supply, and drops across its resistance', () => {
    const { network, point } = biased(
      circuit(
        [rail('vcc', 12, 200), rail('vee', -5)],
        [resistor('R1', 1e3, 'vcc', 'out'), resistor('R2', 500, 'out', 'vee')],
      ),
    );
    expect(railAmps(network, point, 'vcc')).toBeCloseTo(10e-3, 14);
    expect(railAmps(network, point, 'vee')).toBeCloseTo(-10e-3, 14);
    expect(nodeVolts(network, point, 'vcc')).toBeCloseTo(10, 12);
    expect(nodeVolts(network, point, 'gnd')).toBe(0);
  });
});

it('a name the board does not have is the caller’s error', () => {
  const { network, point } = biased(circuit([], [resistor('R1', 1e3, 'in', 'out'), resistor('R2', 1e3, 'out', 'gnd')]));
  expect(() => nodeVolts(network, point, 'nowhere')).toThrow('no node nowhere');
  expect(() => deviceCurrents(network, point, 'Q9')).toThrow('Q9');
  expect(() => amplifierState(network, point, 'U9')).toThrow('U9');
  expect(() => railAmps(network, point, 'vdd')).toThrow('vdd');
});
