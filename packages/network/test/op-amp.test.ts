import type { Circuit, OpAmpType, Part } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { logFrequencies } from '../../curves/src/index.ts';
import { amplifierState, compileNetwork, nodeVolts, solveBias } from '../src/index.ts';
import { circuit, rail, resistor, typed } from './circuits.ts';
import { add, decibels, inverse, modulus, scale, type Complex } from './complex.ts';
import { biased, gainAt, gains } from './solved.ts';

const supplies = [rail('vp', 15), rail('vm', -15), rail('ref', 1)];

/** A non-inverting stage of gain 10 with its plus input on `plus`. */
function timesTen(type: OpAmpType, plus: string, rails?: [string, string]): Part[] {
  return [
    resistor('R1', 1e3, 'm', 'gnd'),
    resistor('R2', 9e3, 'out', 'm'),
    resistor('R3', 1e3, 'in', 'gnd'),
    typed('U1', type, { plus, minus: 'm', out: 'out' }, rails),
  ];
}

describe('an op-amp without limits', () => {
  it('holds its inputs together with infinite gain', () => {
    const stage = circuit(supplies, timesTen({ kind: 'opamp' }, 'ref'));
    const { network, point } = biased(stage);
    expect(nodeVolts(network, point, 'm')).toBeCloseTo(1, 12);
    expect(nodeVolts(network, point, 'out')).toBeCloseTo(10, 12);
    expect(amplifierState(network, point, 'U1').limited).toBe(false);
    // Far beyond any supply, since none is stated.
    const far = biased(circuit([rail('ref', 1000)], timesTen({ kind: 'opamp' }, 'ref')));
    expect(nodeVolts(far.network, far.point, 'out')).toBeCloseTo(10_000, 8);
  });

  it('gains A0/(1 + A0/10) with a finite open-loop gain', () => {
    for (const gain of [10, 1e3, 1e5]) {
      const [re] = gainAt(circuit([], timesTen({ kind: 'opamp', gain }, 'in')), 1000);
      expect(re / (gain / (1 + gain / 10))).toBeCloseTo(1, 12);
    }
  });

  it('rolls off as 1/(1/A0 + jf/GBW + 1/10)', () => {
    const type: OpAmpType = { kind: 'opamp', gain: 1e5, GBW: 3e6 };
    const frequencies = logFrequencies(2, 10e6, 10);
    gains(circuit([], timesTen(type, 'in')), frequencies).forEach((gain, n) => {
      const closedForm = inverse([1e-5 + 0.1, frequencies[n]! / 3e6]);
      // Magnitude and phase: a roll-off that leads instead of lagging would be an oscillator.
      expect(modulus(add(gain, scale(-1, closedForm))) / modulus(closedForm)).toBeLessThan(1e-12);
    });
    // The corner of a stage of gain 10 lies at GBW/10.
    const corner: Complex = gainAt(circuit([], timesTen({ kind: 'opamp', GBW: 3e6 }, 'in')), 300e3);
    expect(decibels(corner)).toBeCloseTo(20 - 10 * Math.log10(2), 9);
  });

  it('loses the share of Rout that its loop gain does not take away', () => {
    const type: OpAmpType = { kind: 'opamp', gain: 200, Rout: 150 };
    const [re] = gainAt(circuit([], timesTen(type, 'in'), { load: { resistance: 1e3 } }), 1000);
    const load = 1 / (1 / 1e3 + 1 / 10e3);
    const open = (200 * load) / (load + 150);
    expect(re / (open / (1 + open / 10))).toBeCloseTo(1, 12);
  });
});

describe('an op-amp at its limits', () => {
  const type: OpAmpType = { kind: 'opamp', gain: 1e5, swing: { above: 1.5, below: 2.5 } };
  const stage = (volts: number, ohms = 0): Circuit =>
    circuit(
      [rail('vp', 15, ohms), rail('vm', -15, ohms), rail('ref', volts)],
      [...timesTen(type, 'ref', ['vp', 'vm']), resistor('R4', 3e3, 'vp', 'gnd')],
    );

  it('follows its inputs inside them', () => {
    const { network, point } = biased(stage(1.2));
    const { outV, limited } = amplifierState(network, point, 'U1');
    expect(limited).toBe(false);
    expect(outV).toBeCloseTo(1.2 * (1e5 / (1 + 1e4)), 10);
  });

  it('stands at the supply less the swing beyond them, and gains nothing there', () => {
    for (const [volts, expected] of [
      [2, 13.5],
      [-2, -12.5],
    ] as const) {
      const { network, point } = biased(stage(volts));
      const { outV, limited } = amplifierState(network, point, 'U1');
      expect(limited).toBe(true);
      expect(outV).toBeCloseTo(expected, 9);
    }
    const driven = circuit(supplies, [
      resistor('R1', 1e3, 'in', 'm'),
      resistor('R2', 10e3, 'm', 'out'),
      typed('U1', type, { plus: 'ref', minus: 'm', out: 'out' }, ['vp', 'vm']),
    ]);
    const inside = biased(driven);
    expect(amplifierState(inside.network, inside.point, 'U1').limited).toBe(false);
    expect(gainAt(driven, 1000)[0]).toBeCloseTo(-10 / (1 + 11e-5), 9);
    const beyond = circuit([rail('vp', 9), rail('vm', -9), rail('ref', 1)], [...driven.parts]);
    // At the limit the output is a fixed voltage: nothing of the input reaches it.
    expect(Math.abs(gainAt(beyond, 1000)[0])).toBeLessThan(1e-9);
  });

  it('takes its limits from the supply node behind the supply’s resistance', () => {
    const { network, point } = biased(stage(2, 100));
    const node = nodeVolts(network, point, 'vp');
    // The op-amp itself draws nothing from its supply, so the node is a divider of 100 Ω and 3 kΩ.
    expect(node).toBeCloseTo((15 * 3e3) / 3.1e3, 10);
    expect(nodeVolts(network, point, 'out')).toBeCloseTo(node - 1.5, 9);
  });

  it('finds one of the states of a stage with positive feedback', () => {
    const trigger = circuit(supplies, [
      resistor('R1', 1e3, 'ref', 'p'),
      resistor('R2', 10e3, 'p', 'out'),
      resistor('R3', 1e3, 'in', 'm'),
      typed('U1', type, { plus: 'p', minus: 'm', out: 'out' }, ['vp', 'vm']),
    ]);
    const { network, point } = biased(trigger);
    const out = nodeVolts(network, point, 'out');
    const at = nodeVolts(network, point, 'p');
    expect(at).toBeCloseTo((10 + out) / 11, 9);
    expect(out).toBeGreaterThanOrEqual(-12.5 - 1e-9);
    expect(out).toBeLessThanOrEqual(13.5 + 1e-9);
  });

  it('refuses infinite gain without feedback and limits, naming the op-amp', () => {
    const open = circuit(
      [rail('ref', 1)],
      [
        resistor('R1', 1e3, 'in', 'm'),
        resistor('R2', 1e3, 'out', 'gnd'),
        typed('U1', { kind: 'opamp' }, { plus: 'ref', minus: 'm', out: 'out' }),
      ],
    );
    const bias = solveBias(compileNetwork(open));
    expect(bias.ok ? '' : bias.diagnostic.message).toContain('U1');
  });
});
