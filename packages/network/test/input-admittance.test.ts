import type { Circuit, JfetType } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { inputAdmittance, linearise, type Source } from '../src/index.ts';
import { capacitor, circuit, rail, resistor, typed } from './circuits.ts';
import { add, inverse, modulus, multiply, scale, type Complex } from './complex.ts';
import { biased, gainAt } from './solved.ts';

function admittanceAt(stage: Circuit, hz: number, source?: Source): Complex {
  const { network, point } = biased(stage, source);
  return inputAdmittance(linearise(network, point), 0)(hz);
}

const apart = (a: Complex, b: Complex): number => modulus(add(a, scale(-1, b))) / modulus(b);

describe('what the source looks into', () => {
  const parts = [
    resistor('R1', 100e3, 'in', 'gnd'),
    capacitor('C1', 0.1e-6, 'in', 'b'),
    resistor('R2', 82e3, 'b', 'out'),
    capacitor('C2', 50e-12, 'in', 'gnd'),
    resistor('R3', 5e3, 'out', 'gnd'),
  ];

  it.each([20, 1e3, 100e3])('is 100 kΩ ∥ (0.1 µF + 87 kΩ) ∥ 50 pF at %d Hz', (hz) => {
    const omega = 2 * Math.PI * hz;
    const branch = inverse([87e3, -1 / (omega * 0.1e-6)]);
    const closedForm = add([1 / 100e3, omega * 50e-12], branch);
    expect(apart(admittanceAt(circuit([], parts), hz), closedForm)).toBeLessThan(1e-12);
    // The source's own resistance and inductance are not part of it, its cable is.
    const source = { resistance: 800, inductance: 0.48, capacitance: 0 };
    expect(apart(admittanceAt(circuit([], parts), hz, source), closedForm)).toBeLessThan(1e-10);
    const cabled = add(closedForm, [0, omega * 150e-12]);
    expect(apart(admittanceAt(circuit([], parts), hz, { ...source, capacitance: 150e-12 }), cabled)).toBeLessThan(
      1e-10,
    );
  });

  it('holds the Miller effect: Crss counts 1 + gm·RD times where RD has no other load', () => {
    const type: JfetType = { kind: 'jfet-n', IDSS: 6e-3, pinchOff: 1, Crss: 4e-12, Ciss: 15e-12 };
    const stage = circuit(
      [rail('vdd', 30), rail('vs', 0.4)],
      [resistor('RD', 4.7e3, 'vdd', 'out'), typed('J1', type, { drain: 'out', gate: 'in', source: 'vs' })],
    );
    const gm = modulus(gainAt(stage, 1)) / 4.7e3;
    const omega = 2 * Math.PI * 10e3;
    const feedback: Complex = [0, omega * 4e-12];
    // Y = jωCgs + jωCgd·(1 − A) with A = −(gm − jωCgd)·RD / (1 + jωCgd·RD).
    const gain = multiply(
      scale(-4.7e3, add([gm, 0], scale(-1, feedback))),
      inverse(add([1, 0], scale(4.7e3, feedback))),
    );
    const closedForm = add([0, omega * 11e-12], multiply(feedback, add([1, 0], scale(-1, gain))));
    // gm is read at 1 Hz, where the capacitances take 1e-9 of it; the gate's junctions leak 1e-14 A.
    expect(apart(admittanceAt(stage, 10e3), closedForm)).toBeLessThan(1e-6);
    expect(closedForm[1] / omega).toBeGreaterThan(11e-12 + 4e-12 * (1 + 0.99 * gm * 4.7e3));
  });
});
