import type { Circuit, OpAmpType, Part } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { logFrequencies, riaaTimes, targetDb } from '../../curves/src/index.ts';
import { capacitor, circuit, resistor, typed } from './circuits.ts';
import { add, decibels, inverse, multiply, scale, type Complex } from './complex.ts';
import { arrangements, exactValues } from './equaliser-networks.ts';
import { outside } from './outside.ts';
import { gainAt, gains } from './solved.ts';

interface PublishedNetworks {
  timesUs: { T1: number; T2: number; T3: number };
  networks: { impedance: string; R1C1us: number; R2C2us: number; R1overR2: number; C1overC2: number }[];
  nonInverting: {
    stages: { gainDb: number; A0: number; f4kHz: number; deviation20HzDb: number; deviation20kHzDb: number }[];
  };
}
const published = outside('equaliser-networks') as PublishedNetworks;

interface TwoStage {
  maximumErrorDb: number;
  stage1: {
    feedback: { parallelOhms: number; parallelFarads: number; seriesOhms: number };
    leg: { ohms: number; farads: number };
  };
  between: { seriesOhms: number; shuntFarads: number; couplingFarads: number; loadOhms: number };
  stage2: { feedbackOhms: number; legOhms: number };
}
const twoStage = outside('two-stage-equaliser') as TwoStage;

const ideal: OpAmpType = { kind: 'opamp' };
const { T1, T2, T3 } = riaaTimes;
const audio = logFrequencies(20, 20e3, 20);

/** dB from the target at each frequency, both re 1 kHz. */
function deviations(stage: Circuit, frequencies: Float64Array): readonly number[] {
  const reference = decibels(gainAt(stage, 1000));
  return gains(stage, frequencies).map((gain, n) => decibels(gain) - reference - targetDb('riaa', frequencies[n]!));
}

const largest = (values: readonly number[]): number => Math.max(...values.map(Math.abs));

describe('the four equaliser networks (S. P. Lipshitz, JAES 27(6), 1979; ratios from memory)', () => {
  published.networks.forEach((row, n) => {
    describe(row.impedance, () => {
      const values = exactValues(47e3)[n]!;
      const network = (a: string, b: string): Part[] => arrangements[n]!(values, a, b);

      it('has the printed ratios', () => {
        // Half of the last printed digit: four decimals for ratios, three for microseconds; the third row's 109.053498 is
        // printed as 109.054, rounded twice.
        expect(Math.abs(values.R1 / values.R2 - row.R1overR2)).toBeLessThan(0.5001e-4);
        expect(Math.abs(values.C1 / values.C2 - row.C1overC2)).toBeLessThan(0.5001e-4);
        expect(Math.abs(values.R1 * values.C1 * 1e6 - row.R1C1us)).toBeLessThan(0.5001e-3);
        expect(Math.abs(values.R2 * values.C2 * 1e6 - row.R2C2us)).toBeLessThan(0.503e-3);
      });

      it('nulls the deviation fed by a current source', () => {
        // 47 TΩ in front passes the same current to 1e-9 of it, which is 1e-8 dB.
        const stage = circuit([], [resistor('R9', 47e12, 'in', 'out'), ...network('out', 'gnd')]);
        expect(largest(deviations(stage, audio))).toBeLessThan(1e-7);
      });

      it('nulls the deviation round an ideal inverting op-amp', () => {
        const stage = circuit(
          [],
          [
            resistor('R9', 470, 'in', 'm'),
            ...network('m', 'out'),
            typed('U1', ideal, { plus: 'gnd', minus: 'm', out: 'out' }),
          ],
        );
        // Nothing but rounding is left.
        expect(largest(deviations(stage, audio))).toBeLessThan(1e-9);
        expect(decibels(gainAt(stage, 1e-6))).toBeCloseTo(40, 9);
      });

      if (n >= 2) {
        it('nulls the deviation as a passive divider', () => {
          const stage = circuit(
            [],
            network('out', 'gnd').map((part) =>
              part.kind === 'resistor' && part.ref === 'R1' ? resistor('R1', values.R1, 'in', 'out') : part,
            ),
          );
          expect(largest(deviations(stage, audio))).toBeLessThan(1e-9);
        });
      }
    });
  });

  it('takes the printed microseconds and ratios themselves to within 1e-3 dB', () => {
    published.networks.forEach((row, n) => {
      const R2 = 10e3;
      const R1 = R2 * row.R1overR2;
      const C1 = (row.R1C1us * 1e-6) / R1;
      const C2 = C1 / row.C1overC2;
      const stage = circuit(
        [],
        [resistor('R9', 1e13, 'in', 'out'), ...arrangements[n]!({ R1, R2, C1, C2 }, 'out', 'gnd')],
      );
      // Ratios of five digits move a corner by 1e-5 of itself, which is 1e-4 dB.
      expect(largest(deviations(stage, audio))).toBeLessThan(1e-3);
    });
  });
});

describe('a non-inverting stage 1 + Z/R3 with the first network (computed from the paper of 1979)', () => {
  const stageFor = (A0: number): Circuit =>
    circuit(
      [],
      [
        ...arrangements[0]!(exactValues(100e3)[0]!, 'out', 'm'),
        resistor('R3', 100e3 / A0, 'm', 'gnd'),
        typed('U1', ideal, { plus: 'in', minus: 'm', out: 'out' }),
      ],
    );

  /** The roots of T1T3·s² + (T1 + T3 + A0·T2)·s + 1 + A0 = 0 in Hz, the smaller first. */
  function zeros(A0: number): readonly [number, number] {
    const b = T1 + T3 + A0 * T2;
    const q = b + Math.sqrt(b * b - 4 * T1 * T3 * (1 + A0));
    return [(1 + A0) / (Math.PI * q), q / (4 * Math.PI * T1 * T3)];
  }

  for (const row of published.nonInverting.stages) {
    it(`of ${row.gainDb} dB has its extra zero at ${row.f4kHz} kHz`, () => {
      const stage = stageFor(row.A0);
      // The DC value's printed five digits are 1e-4 dB of the gain.
      expect(decibels(gainAt(stage, 1000))).toBeCloseTo(row.gainDb, 3);
      const [f2, f4] = zeros(row.A0);
      // Half of the last printed digit, and the rounding of A0 (1e-5 of it) on top.
      expect(Math.abs(f4 / 1e3 - row.f4kHz)).toBeLessThan(0.008);
      const frequencies = logFrequencies(2, 1e6, 10);
      gains(stage, frequencies).forEach((gain, n) => {
        const corner = (hz: number): Complex => [1, frequencies[n]! / hz];
        const pole = (time: number): Complex => inverse([1, 2 * Math.PI * frequencies[n]! * time]);
        const closedForm = [corner(f2), corner(f4), pole(T1), pole(T3)].reduce(multiply, [1 + row.A0, 0]);
        // Both sides are exact; rounding of gains of up to 65 dB is left.
        expect(Math.abs(decibels(gain) - decibels(closedForm))).toBeLessThan(1e-9);
      });
      const [at20, at20k] = deviations(stage, Float64Array.of(20, 20e3));
      // Half of the last printed digit.
      expect(Math.abs(at20! - row.deviation20HzDb)).toBeLessThan(0.501e-3);
      expect(Math.abs(at20k! - row.deviation20kHzDb)).toBeLessThan(0.501e-3);
    });
  }
});

describe('the two-stage equaliser of National Semiconductor AN-346 (values and stated error from memory)', () => {
  const { stage1, between, stage2 } = twoStage;
  const stage = circuit(
    [],
    [
      typed('U1', ideal, { plus: 'in', minus: 'm1', out: 'o1' }),
      resistor('R1', stage1.feedback.parallelOhms, 'o1', 'f'),
      capacitor('C1', stage1.feedback.parallelFarads, 'o1', 'f'),
      resistor('R2', stage1.feedback.seriesOhms, 'f', 'm1'),
      resistor('R3', stage1.leg.ohms, 'm1', 'leg'),
      capacitor('C2', stage1.leg.farads, 'leg', 'gnd'),
      resistor('R4', between.seriesOhms, 'o1', 'p'),
      capacitor('C3', between.shuntFarads, 'p', 'gnd'),
      capacitor('C4', between.couplingFarads, 'p', 'p2'),
      resistor('R5', between.loadOhms, 'p2', 'gnd'),
      typed('U2', ideal, { plus: 'p2', minus: 'm2', out: 'out' }),
      resistor('R6', stage2.feedbackOhms, 'out', 'm2'),
      resistor('R7', stage2.legOhms, 'm2', 'gnd'),
    ],
  );

  it('keeps the stated 0.1 dB over 20 Hz to 20 kHz', () => {
    const worst = largest(deviations(stage, audio));
    console.log(`two-stage equaliser: worst deviation ${worst.toFixed(4)} dB over 20 Hz to 20 kHz`);
    expect(worst).toBeLessThan(twoStage.maximumErrorDb);
    // Below the audio band its coupling capacitors lose bass that the curve without the 7950 µs term asks for.
    expect(deviations(stage, Float64Array.of(5))[0]).toBeLessThan(-twoStage.maximumErrorDb);
  });

  it('agrees with its closed form', () => {
    const frequencies = logFrequencies(2, 100e3, 10);
    const farad = (farads: number, omega: number): Complex => [0, -1 / (omega * farads)];
    const { feedback, leg } = stage1;
    gains(stage, frequencies).forEach((gain, n) => {
      const omega = 2 * Math.PI * frequencies[n]!;
      const parallel = inverse([1 / feedback.parallelOhms, omega * feedback.parallelFarads]);
      const first = multiply(
        add(parallel, [feedback.seriesOhms, 0]),
        inverse(add([leg.ohms, 0], farad(leg.farads, omega))),
      );
      const onward = add([between.loadOhms, 0], farad(between.couplingFarads, omega));
      const shunt = inverse(add([0, omega * between.shuntFarads], inverse(onward)));
      const passed = multiply(shunt, inverse(add(shunt, [between.seriesOhms, 0])));
      const taken = scale(between.loadOhms, inverse(onward));
      const closedForm = scale(
        1 + stage2.feedbackOhms / stage2.legOhms,
        multiply(add([1, 0], first), multiply(passed, taken)),
      );
      expect(Math.abs(decibels(gain) - decibels(closedForm))).toBeLessThan(1e-9);
    });
  });
});
