import type { BipolarType, Circuit } from '@curvewright/board';
import { thermalVoltage } from '@curvewright/devices';
import { describe, expect, it } from 'vitest';
import { logFrequencies } from '../../curves/src/index.ts';
import {
  compileNetwork,
  deviceCurrents,
  linearise,
  portBetween,
  solveBias,
  solveResponse,
  unknownOf,
  type SmallSignal,
} from '../src/index.ts';
import { capacitor, circuit, rail, resistor, typed } from './circuits.ts';
import { add, inverse, modulus, multiply, scale, type Complex } from './complex.ts';
import { biased } from './solved.ts';

function small(stage: Circuit): SmallSignal {
  const { network, point } = biased(stage);
  return linearise(network, point);
}

const apart = (a: Complex, b: Complex): number => modulus(add(a, scale(-1, b))) / modulus(b);

describe('impedance between two nodes', () => {
  it('of a cartridge on its cable and load is (R + jωL) ∥ C ∥ 47 kΩ', () => {
    const source = { resistance: 800, inductance: 0.48, capacitance: 150e-12 };
    const network = compileNetwork(
      circuit([], [resistor('R1', 47e3, 'in', 'out'), resistor('R2', 1, 'out', 'gnd')]),
      source,
    );
    const bias = solveBias(network);
    if (!bias.ok) throw new Error(bias.diagnostic.message);
    const port = portBetween(linearise(network, bias.point), unknownOf(network, 'in'), unknownOf(network, 'gnd'));
    for (const hz of logFrequencies(2, 100e3, 5)) {
      const omega = 2 * Math.PI * hz;
      const closedForm = inverse(add(inverse([800, omega * 0.48]), [1 / 47001, omega * 150e-12]));
      // Rounding, a thousandfold where coil and cable resonate.
      expect(apart(port.impedance(hz)!, closedForm)).toBeLessThan(1e-11);
    }
  });

  it('between two nodes that both float above gnd is that of the part between them', () => {
    const stage = circuit(
      [],
      [
        resistor('R1', 1e3, 'in', 'a'),
        resistor('R2', 10e3, 'a', 'out'),
        capacitor('C1', 10e-9, 'a', 'out'),
        resistor('R3', 2e3, 'out', 'gnd'),
      ],
    );
    const { network } = biased(stage);
    const port = portBetween(small(stage), unknownOf(network, 'a'), unknownOf(network, 'out'));
    const omega = 2 * Math.PI * 1000;
    const closedForm = inverse(add([1 / 10e3 + 1 / 3e3, 0], [0, omega * 10e-9]));
    expect(apart(port.impedance(1000)!, closedForm)).toBeLessThan(1e-12);
  });

  it('at the emitter of a follower is RE ∥ (kT/q)/IE for a base held by a source', () => {
    const npn: BipolarType = { kind: 'npn', hFE: [{ value: 200, at: 0 }], VBE: { value: 0.62, at: 1e-3 } };
    const stage = circuit(
      [rail('vcc', 12), rail('vee', -12)],
      [typed('Q1', npn, { collector: 'vcc', base: 'in', emitter: 'out' }), resistor('R1', 10e3, 'out', 'vee')],
    );
    const { network, point } = biased(stage);
    const slope = -deviceCurrents(network, point, 'Q1').emitter! / thermalVoltage(298.15);
    const port = portBetween(linearise(network, point), unknownOf(network, 'out'), unknownOf(network, 'gnd'));
    // The saturation current beside IE is below 1e-10 of it.
    expect(apart(port.impedance(1000)!, [1 / (slope + 1 / 10e3), 0])).toBeLessThan(1e-9);
  });
});

describe('two channels', () => {
  it('pass a signal to each other through what they share, the same both ways', () => {
    // A resistor each to a shared node, which a resistor takes to gnd.
    const stage = {
      ...circuit(
        [],
        [
          resistor('R101', 1e3, 'in@left', 'out@left'),
          resistor('R102', 3e3, 'in@right', 'out@right'),
          resistor('R103', 10e3, 'out@left', 'vq'),
          resistor('R104', 10e3, 'out@right', 'vq'),
          capacitor('C101', 1e-6, 'vq', 'gnd'),
          resistor('R105', 1e6, 'vq', 'gnd'),
        ],
      ),
      channels: ['left', 'right'].map((name) => ({ name, input: `in@${name}`, output: `out@${name}`, load: {} })),
    };
    const { gains } = solveResponse(small(stage), Float64Array.of(100));
    const shared = inverse([1 / 1e6, 2 * Math.PI * 100 * 1e-6]);
    const toRight = inverse(add(inverse(shared), [1 / 13e3, 0]));
    const atShared = multiply(toRight, inverse(add(toRight, [11e3, 0])));
    // The right channel's own input stands at 0 V while the left is driven.
    const closedForm = scale(3 / 13, atShared);
    const [re, im] = gains[0]![1]! as unknown as [number, number];
    expect(apart([re, im], closedForm)).toBeLessThan(1e-12);
    const [backRe, backIm] = gains[1]![0]! as unknown as [number, number];
    // Reciprocity: the ratio of the transfers is that of the resistors towards each input.
    expect(apart([backRe, backIm], scale(1 / 3, [re, im]))).toBeLessThan(1e-12);
  });
});
