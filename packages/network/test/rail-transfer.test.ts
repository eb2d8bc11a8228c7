import { describe, expect, it } from 'vitest';
import { linearise, railTransfer, withoutCapacitance, type RailTransfer } from '../src/index.ts';
import { capacitor, circuit, rail, resistor, typed } from './circuits.ts';
import { biased } from './solved.ts';
import type { Circuit } from '@curvewright/board';

function transferOf(stage: Circuit): RailTransfer {
  const { network, point } = biased(stage);
  return railTransfer(network, linearise(network, point));
}

const apart = (a: number, b: number): number => Math.abs(a / b - 1);

const filtered = circuit(
  [rail('vcc', 20, 10)],
  [
    resistor('R1', 990, 'vcc', 'out'),
    resistor('R2', 1e3, 'out', 'gnd'),
    capacitor('C1', 100e-6, 'out', 'gnd', { esr: 2, leakage: 1e6 }),
    resistor('R3', 1e3, 'in', 'gnd'),
  ],
);

describe('what a rail does at the output', () => {
  it.each([20, 100, 1e3, 20e3])('of a divider with a decoupler is its closed form at %d Hz', (hz) => {
    const reactance = 1 / (2 * Math.PI * hz * 100e-6);
    // 1 kΩ (rail and R1) over 1 kΩ ∥ 1 MΩ ∥ (2 Ω − jX): |Z2| / |1 kΩ + Z2| = 1 / |1 + 1 kΩ · Y2|.
    const norm = 2 ** 2 + reactance ** 2;
    const [re, im] = [1 / 1e3 + 1e-6 + 2 / norm, reactance / norm];
    const closedForm = 1 / Math.hypot(1 + 1e3 * re, 1e3 * im);
    // Rounding of a handful of operations.
    expect(apart(transferOf(filtered).at(hz)[0]![0]!, closedForm)).toBeLessThan(1e-12);
  });

  it('without the capacitance is the divider alone, leakage and all', () => {
    const { network, point } = biased(filtered);
    const found = railTransfer(network, withoutCapacitance(network, point, 'C1')).at(100)[0]![0]!;
    const lower = 1 / (1 / 1e3 + 1e-6);
    expect(apart(found, lower / (1e3 + lower))).toBeLessThan(1e-12);
  });

  it('through the rejection of an op-amp is its gain over the rejection, from either supply', () => {
    const parts = [resistor('R1', 1e3, 'm', 'gnd'), resistor('R2', 99e3, 'out', 'm'), resistor('R3', 1e3, 'in', 'gnd')];
    const supplies = [rail('vp', 15, 4.7), rail('vm', -15), rail('idle', 5)];
    const stage = (PSRR?: number): Circuit => {
      const type = { kind: 'opamp', ...(PSRR === undefined ? {} : { PSRR }) } as const;
      return circuit(supplies, [...parts, typed('U1', type, { plus: 'in', minus: 'm', out: 'out' }, ['vp', 'vm'])]);
    };
    const [positive, negative, idle] = transferOf(stage(1e4)).at(100);
    expect(apart(positive![0]!, 1e-2)).toBeLessThan(1e-12);
    expect(apart(negative![0]!, 1e-2)).toBeLessThan(1e-12);
    expect(idle![0]).toBe(0);
    expect(transferOf(stage()).at(100)[0]![0]).toBe(0);
  });

  it('falls off with the loop gain where the op-amp has little of it', () => {
    const type = { kind: 'opamp', PSRR: 1e4, GBW: 1e6 } as const;
    const stage = circuit(
      [rail('vp', 15), rail('vm', -15)],
      [
        resistor('R1', 1e3, 'm', 'gnd'),
        resistor('R2', 99e3, 'out', 'm'),
        typed('U1', type, { plus: 'in', minus: 'm', out: 'out' }, ['vp', 'vm']),
      ],
    );
    // Gain 1/(1/100 + jf/GBW).
    const gain = 1 / Math.hypot(1e-2, 20e3 / 1e6);
    expect(apart(transferOf(stage).at(20e3)[0]![0]!, gain * 1e-4)).toBeLessThan(1e-12);
  });
});
