import { bandQuadrature } from '../../curves/src/index.ts';
import type { BipolarType, Circuit, JfetType } from '@curvewright/board';
import { boltzmann, elementaryCharge, thermalVoltage } from '@curvewright/devices';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  deviceCurrents,
  frequencySolver,
  linearise,
  noiseDensities,
  noiseGenerators,
  portBetween,
  unknownOf,
  type NoiseGenerator,
  type SmallSignal,
  type Source,
} from '../src/index.ts';
import { capacitor, circuit, inductor, rail, resistor, typed } from './circuits.ts';
import { modulus } from './complex.ts';
import { drawsFrom } from './random.ts';
import { randomPassive } from './random-networks.ts';
import { randomStage } from './random-stages.ts';
import { biased, gainAt } from './solved.ts';

interface Solved {
  readonly small: SmallSignal;
  readonly generators: readonly NoiseGenerator[];
  readonly output: number;
}

function solved(stage: Circuit, source?: Source): Solved {
  const { network, point } = biased(stage, source);
  const small = linearise(network, point);
  return { small, generators: noiseGenerators(network, point), output: small.channels[0]!.output };
}

/** V²/Hz at the output at one frequency, of the generators that `keep` names. */
function density(
  stage: Circuit,
  hz: number,
  keep: (g: NoiseGenerator) => boolean = () => true,
  source?: Source,
): number {
  const { small, generators, output } = solved(stage, source);
  const [each] = noiseDensities(small, generators, [output], Float64Array.of(hz));
  return each!.reduce((sum, value, g) => sum + (keep(generators[g]!) ? value : 0), 0);
}

/** V² over a band. */
function power(stage: Circuit, from: number, to: number): number {
  const { small, generators, output } = solved(stage);
  const { frequencies, weights } = bandQuadrature(from, to);
  const [each] = noiseDensities(small, generators, [output], frequencies);
  return each!.reduce((sum, value, k) => sum + value * weights[k % weights.length]!, 0);
}

const apart = (a: number, b: number): number => Math.abs(a / b - 1);
const fourKT = (kelvin: number): number => 4 * boltzmann * kelvin;

describe('thermal noise', () => {
  // Johnson noise from 4kTR, nV/√Hz at 290 and 300 K, computed from the constants of the SI 2019 and printed to five digits.
  it.each([
    [100, 1.2655, 1.2872],
    [1e3, 4.0019, 4.0704],
    [10e3, 12.655, 12.872],
    [47e3, 27.436, 27.905],
  ])('of %d Ω is %f nV/√Hz at 290 K and %f at 300 K', (ohms, at290, at300) => {
    for (const [kelvin, nanovolts] of [
      [290, at290],
      [300, at300],
    ] as const) {
      const stage = circuit([], [resistor('R1', 1, 'in', 'gnd'), resistor('R2', ohms, 'out', 'gnd')], {
        ambient: kelvin,
      });
      // Half of the fifth digit.
      expect(apart(Math.sqrt(density(stage, 1000)) * 1e9, nanovolts)).toBeLessThan(5e-5);
    }
  });

  it('of 1 kΩ in 10 kHz is 400 nV, of 100 kΩ in 1 MHz at 300 K 40.69 µV (published)', () => {
    const stage = (ohms: number, kelvin: number): Circuit =>
      circuit([], [resistor('R1', 1, 'in', 'gnd'), resistor('R2', ohms, 'out', 'gnd')], { ambient: kelvin });
    // The printed digits; the second source reckons with rounded constants.
    expect(apart(Math.sqrt(power(stage(1e3, 290), 1, 10_001)), 400e-9)).toBeLessThan(1e-3);
    expect(apart(Math.sqrt(power(stage(100e3, 300), 1, 1_000_001)), 40.69e-6)).toBeLessThan(5e-4);
  });

  it('of a divider is that of its resistors side by side, to 1e-12', () => {
    const stage = circuit([], [resistor('R1', 22e3, 'in', 'out'), resistor('R2', 4.7e3, 'out', 'gnd')]);
    const parallel = 1 / (1 / 22e3 + 1 / 4.7e3);
    expect(apart(density(stage, 1000), fourKT(298.15) * parallel)).toBeLessThan(1e-12);
  });

  it.each([
    ['RC', [resistor('R1', 10e3, 'in', 'out'), capacitor('C1', 1e-9, 'out', 'gnd')]],
    [
      'RLC of Q 2',
      [
        resistor('R1', 1e3, 'in', 'a'),
        inductor('L1', 4e-3, 0, 'a', 'out'),
        resistor('R2', 10e3, 'out', 'gnd'),
        capacitor('C1', 1e-9, 'out', 'gnd'),
      ],
    ],
  ])('of an %s over all frequencies is kT/C', (_, parts) => {
    // The band ends seven decades from the corner, where 2/π · 1e-7 is missing at either end.
    expect(apart(power(circuit([], parts), 1e-3, 1e12), (boltzmann * 298.15) / 1e-9)).toBeLessThan(1e-6);
  });

  it('of a cartridge is that of its resistance, behind its inductance', () => {
    const stage = circuit([], [resistor('R1', 47e3, 'in', 'gnd'), resistor('R2', 100, 'in', 'out')]);
    const source = { resistance: 800, inductance: 0.48, capacitance: 0 };
    const omega = 2 * Math.PI * 10e3;
    const divider = 47e3 ** 2 / ((47e3 + 800) ** 2 + (omega * 0.48) ** 2);
    const found = density(stage, 10e3, ({ ref }) => ref === 'input@mono', source);
    expect(apart(found, fourKT(298.15) * 800 * divider)).toBeLessThan(1e-12);
  });

  it('at a port is 4kT of the real part of its impedance in any network of R, L and C (Nyquist), losses too', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.double({ min: 0, max: 5, noNaN: true }), (seed, decade) => {
        const stage = randomPassive(drawsFrom(seed));
        const { network, point } = biased(stage);
        const small = linearise(network, point);
        const hz = 10 ** decade;
        const z = portBetween(small, unknownOf(network, 'out'), unknownOf(network, 'gnd')).impedance(hz)!;
        // 10 mΩ beside 1 MΩ: a node's sum of conductances alone is rounded to 1e-8 of the small ones.
        expect(Math.abs(density(stage, hz) / fourKT(298.15) - z[0])).toBeLessThan(1e-7 * modulus(z));
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });
});

describe('the transposed solve', () => {
  it('gives each generator the transfer that a solve with that generator alone gives, on random stages', () => {
    let compared = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const { small, generators, output } = solved(randomStage(drawsFrom(seed)).circuit);
      const solver = frequencySolver(small);
      for (const hz of [20, 1000, 20e3]) {
        const [each] = noiseDensities(small, generators, [output], Float64Array.of(hz));
        const largest = Math.max(...each!);
        expect(solver.setFrequency(hz)).toBe(true);
        generators.forEach((generator, g) => {
          const x = new Float64Array(2 * small.size);
          for (const { row, amount, rate } of generator.injections) {
            x[2 * row]! += amount;
            x[2 * row + 1]! += 2 * Math.PI * hz * rate;
          }
          solver.solve(x);
          const { white, falling, rising } = generator;
          const alone = modulus([x[2 * output]!, x[2 * output + 1]!]) ** 2 * (white + falling / hz + rising * hz);
          // Both solves leave rounding times the condition of the network; against the loudest generator.
          expect(Math.abs(each![g]! - alone)).toBeLessThan(1e-9 * largest);
          compared++;
        });
      }
    }
    expect(compared).toBeGreaterThan(1000);
  });
});

describe('a common emitter stage', () => {
  const type: BipolarType = {
    kind: 'npn',
    hFE: [{ value: 300, at: 0 }],
    VBE: { value: 0.6, at: 1e-3 },
    earlyVoltage: 80,
    rbb: 150,
    noiseCorner: 400,
  };
  const stage = circuit(
    [rail('vcc', 12), rail('vee', -0.58)],
    [resistor('RC', 4.7e3, 'vcc', 'out'), typed('Q1', type, { collector: 'out', base: 'in', emitter: 'vee' })],
  );
  const source = { resistance: 2e3, inductance: 0, capacitance: 0 };

  it.each([10, 400, 5000])('makes the noise of its textbook formula at %d Hz', (hz) => {
    const { network, point } = biased(stage, source);
    const { collector, base } = deviceCurrents(network, point, 'Q1');
    const vt = thermalVoltage(298.15);
    // Gray & Meyer, Analysis and Design of Analog Integrated Circuits (from memory): rs = source + rbb makes thermal, the base current shot and 1/f
    // noise, the collector current shot noise, the load thermal noise.
    const rs = 2e3 + 150;
    const vce = point.x[unknownOf(network, 'out')]! + 0.58;
    const vbc = vce - point.controls[0]!;
    const forward = collector! / (1 + vbc / 80);
    const rpi = vt / base!;
    const ro = 80 / forward;
    // At a standing collector voltage the base also narrows its own Early effect.
    const gm = collector! / vt - 1 / ro;
    const load = 1 / (1 / 4.7e3 + 1 / ro);
    const share = rpi / (rpi + rs);
    const atOutput =
      (gm * load * share) ** 2 * (fourKT(298.15) * rs + 2 * elementaryCharge * base! * (1 + 400 / hz) * rs ** 2) +
      load ** 2 * (2 * elementaryCharge * collector! + fourKT(298.15) / 4.7e3);
    // The formula leaves out the junctions' saturation currents, 1e-10 of the bias.
    expect(apart(density(stage, hz, undefined, source), atOutput)).toBeLessThan(1e-8);
  });
});

describe('a field-effect stage', () => {
  const type: JfetType = {
    kind: 'jfet-n',
    IDSS: 6e-3,
    pinchOff: 1,
    yos: 20e-6,
    Crss: 4e-12,
    Ciss: 15e-12,
    en: 2e-9,
    enCorner: 100,
  };
  const stage = circuit(
    [rail('vdd', 20)],
    [
      resistor('RD', 3.3e3, 'vdd', 'out'),
      resistor('RS', 330, 's', 'gnd'),
      typed('J1', type, { drain: 'out', gate: 'in', source: 's' }),
    ],
  );

  it.each([100, 1e3, 1e5, 1e7])('amplifies its stated en as it amplifies the input, at %d Hz', (hz) => {
    const found = density(stage, hz, ({ name }) => name === 'channel');
    const expected = modulus(gainAt(stage, hz)) ** 2 * 4e-18 * (1 + 100 / hz);
    expect(apart(found, expected)).toBeLessThan(1e-11);
  });
});

describe('a noise voltage in series with a lead', () => {
  it.each([100, 1e6])('does what a noisy resistor in that lead does, at %d Hz', (hz) => {
    const type: JfetType = { kind: 'jfet-n', IDSS: 6e-3, pinchOff: 1, yos: 20e-6, Crss: 4e-12, Ciss: 15e-12 };
    const leads = { drain: 'out', gate: 'in', source: 's' };
    const stage = circuit(
      [rail('vdd', 20)],
      [
        resistor('RD', 3.3e3, 'vdd', 'out'),
        inductor('LS', 0, 1e-3, 's', 'e'),
        resistor('RS', 330, 'e', 'gnd'),
        typed('J1', type, leads),
      ],
    );
    const { network, point } = biased(stage);
    const [placed] = network.devices;
    const inSource = { name: 'source', quantity: 'voltage', between: [2, 1], density: 1, corner: 0 } as const;
    const noisy = { ...network, devices: [{ ...placed!, device: { ...placed!.device, noise: () => [inSource] } }] };
    const small = linearise(network, point);
    const generators = noiseGenerators(noisy, point);
    const [each] = noiseDensities(small, generators, [small.channels[0]!.output], Float64Array.of(hz));
    const of = (name: string): number => each![generators.findIndex((g) => g.ref === name)]!;
    expect(apart(of('J1'), of('LS') / (fourKT(298.15) * 1e-3))).toBeLessThan(1e-9);
  });
});

describe('a non-inverting op-amp stage', () => {
  const ohms = fc.double({ min: 10, max: 1e5, noNaN: true });
  const values = fc.record({
    rs: ohms,
    leg: ohms,
    back: ohms,
    en: fc.double({ min: 1e-9, max: 30e-9, noNaN: true }),
    in: fc.double({ min: 1e-14, max: 3e-12, noNaN: true }),
    corner: fc.double({ min: 0, max: 1e3, noNaN: true }),
    hz: fc.double({ min: 10, max: 2e4, noNaN: true }),
  });

  it('makes en, in and the noise of three resistors as the closed form says, and a noiseless resistor takes off just its share', () => {
    fc.assert(
      fc.property(values, ({ rs, leg, back, en, in: current, corner, hz }) => {
        const type = { kind: 'opamp', en, in: current, enCorner: corner, inCorner: 2 * corner } as const;
        const stage = circuit(
          [],
          [
            resistor('RS', rs, 'in', 'p'),
            resistor('R1', leg, 'm', 'gnd'),
            resistor('R2', back, 'out', 'm'),
            typed('U1', type, { plus: 'p', minus: 'm', out: 'out' }),
          ],
        );
        const gain = 1 + back / leg;
        const inputCurrent = current ** 2 * (1 + (2 * corner) / hz);
        const ofResistor = {
          RS: gain ** 2 * fourKT(298.15) * rs,
          R1: (back / leg) ** 2 * fourKT(298.15) * leg,
          R2: fourKT(298.15) * back,
        };
        const amplifier = gain ** 2 * (en ** 2 * (1 + corner / hz) + inputCurrent * rs ** 2) + inputCurrent * back ** 2;
        const whole = amplifier + ofResistor.RS + ofResistor.R1 + ofResistor.R2;
        // Rounding of a few multiplications.
        expect(apart(density(stage, hz), whole)).toBeLessThan(1e-12);
        for (const quiet of ['RS', 'R1', 'R2'] as const) {
          const less = density(stage, hz, ({ ref }) => ref !== quiet);
          expect(Math.abs((density(stage, hz) - less - ofResistor[quiet]) / whole)).toBeLessThan(1e-12);
        }
      }),
      { seed: 20261125, numRuns: 100 },
    );
  });
});

describe('excess noise', () => {
  it('puts the µV of its index into each decade for each volt across the resistor (IEC 60195)', () => {
    const noisy = { ...resistor('R1', 100e3, 'vcc', 'out'), noiseIndex: -10 };
    const stage = circuit(
      [rail('vcc', 30)],
      [noisy, resistor('R2', 50e3, 'out', 'gnd'), resistor('R3', 1, 'in', 'gnd')],
    );
    const { small, generators, output } = solved(stage);
    for (const from of [1, 100]) {
      const { frequencies, weights } = bandQuadrature(from, 10 * from);
      const excess = generators.filter(({ name }) => name === 'excess noise');
      const [each] = noiseDensities(small, excess, [output], frequencies);
      const volts = Math.sqrt(each!.reduce((sum, value, n) => sum + value * weights[n]!, 0));
      // 20 V across R1; a third of its noise reaches the divider's tap.
      expect(apart(volts, (20 * 10 ** (-10 / 20) * 1e-6) / 3)).toBeLessThan(1e-12);
    }
  });

  it('is none without direct voltage', () => {
    const stage = circuit(
      [],
      [{ ...resistor('R1', 100e3, 'in', 'out'), noiseIndex: 0 }, resistor('R2', 50e3, 'out', 'gnd')],
    );
    expect(solved(stage).generators.filter(({ name }) => name === 'excess noise')).toEqual([]);
  });
});

describe('networks of R, L and C', () => {
  it('are reciprocal and passive', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.double({ min: 0, max: 6, noNaN: true }), (seed, decade) => {
        const { network, point } = biased(randomPassive(drawsFrom(seed)), {
          resistance: 50,
          inductance: 0,
          capacitance: 0,
        });
        const small = linearise(network, point);
        const solver = frequencySolver(small);
        expect(solver.setFrequency(10 ** decade)).toBe(true);
        const nodes = [...network.nodes.values()];
        const impedances = nodes.map((from) => {
          const x = new Float64Array(2 * small.size);
          x[2 * from] = 1;
          solver.solve(x);
          return nodes.map((to) => [x[2 * to]!, x[2 * to + 1]!] as const);
        });
        nodes.forEach((_, i) => {
          const own = modulus(impedances[i]![i]!);
          // 10 mΩ beside 1 MΩ: a node's sum of conductances alone is rounded to 1e-8 of the small ones.
          expect(impedances[i]![i]![0]).toBeGreaterThanOrEqual(-1e-7 * own);
          nodes.forEach((__, j) => {
            const [there, back] = [impedances[i]![j]!, impedances[j]![i]!];
            const scale = Math.sqrt(own * modulus(impedances[j]![j]!));
            expect(modulus([there[0] - back[0], there[1] - back[1]])).toBeLessThanOrEqual(1e-7 * scale);
          });
        });
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });
});
