import type { BipolarType, JfetType, Part, TriodeType } from '@curvewright/board';
import { thermalVoltage } from '@curvewright/devices';
import { describe, expect, it } from 'vitest';
import { logFrequencies } from '../../curves/src/index.ts';
import { deviceCurrents, nodeVolts } from '../src/index.ts';
import { capacitor, circuit, rail, resistor, typed } from './circuits.ts';
import { decibels, inverse, modulus, multiply, scale, type Complex } from './complex.ts';
import { biased, gainAt, gains } from './solved.ts';

const vt = thermalVoltage(298.15);
const npn: BipolarType = { kind: 'npn', hFE: [{ value: 250, at: 0 }], VBE: { value: 0.62, at: 1e-3 } };

/**
 * F of a coupling or bypass capacitor: 16 mΩ at 1 kHz stand at right angles to the hundreds of ohms around them and move a gain by 1e-9 at
 * most. A larger one would drown those ohms in the rounding of its own admittance.
 */
const short = 10e-3;
const hz = 1000;

/** What separates a computed gain from its closed form: such a capacitor, rounding and saturation currents. */
const relative = 1e-8;
const close = (computed: number, expected: number): void => {
  expect(Math.abs(computed / expected - 1)).toBeLessThan(relative);
};

describe('common emitter', () => {
  const early = 80;
  const parts = (from: string, sourceOhms: number): Part[] => [
    resistor('R1', sourceOhms, 'in', from),
    capacitor('C1', short, from, 'b'),
    resistor('R2', 1.2e6, 'vcc', 'b'),
    resistor('R3', 4.7e3, 'vcc', 'out'),
    typed('Q1', { ...npn, earlyVoltage: early }, { collector: 'out', base: 'b', emitter: 'gnd' }),
  ];
  const stage = circuit([rail('vcc', 12)], parts('s', 0));
  const { network, point } = biased(stage);
  const { collector, base } = deviceCurrents(network, point, 'Q1') as { collector: number; base: number };
  const vcb = nodeVolts(network, point, 'out') - nodeVolts(network, point, 'b');
  const gm = collector / vt;
  const ro = (early + vcb) / collector;
  const onLoad = 1 / (1 / 4.7e3 + 1 / ro);

  it('gains −gm(RC ∥ ro)', () => {
    const [re, im] = gainAt(stage, hz);
    // The Early effect acts through the base-collector voltage, so that the base itself undoes 1/ro of gm: one part in VA/(kT/q).
    close(re, -(gm - 1 / ro) * onLoad);
    expect(Math.abs(re / (-gm * onLoad) - 1)).toBeLessThan((1.2 * vt) / early);
    // The coupling capacitor's 16 mΩ against rπ of 2.7 kΩ.
    expect(Math.abs(im / re)).toBeLessThan(1e-5);
  });

  it('loads its source with rπ = (kT/q)/IB', () => {
    const input = 1 / (base / vt + 1 / 1.2e6);
    const loaded = circuit([rail('vcc', 12)], parts('s', 10e3));
    close(modulus(gainAt(loaded, hz)) / modulus(gainAt(stage, hz)), input / (input + 10e3));
  });

  it('gains the same as pnp with every sign turned', () => {
    const mirrored = circuit(
      [rail('vcc', -12)],
      parts('s', 10e3).map((part) =>
        part.kind === 'typed' ? { ...part, type: { ...npn, kind: 'pnp', earlyVoltage: early } } : part,
      ),
    );
    const turned = biased(mirrored);
    expect(nodeVolts(turned.network, turned.point, 'out')).toBeCloseTo(-nodeVolts(network, point, 'out'), 12);
    close(gainAt(mirrored, hz)[0], gainAt(circuit([rail('vcc', 12)], parts('s', 10e3)), hz)[0]);
  });

  it('sees the base resistance rbb in series with rπ', () => {
    const withBase = circuit(
      [rail('vcc', 12)],
      parts('s', 0).map((part) =>
        part.kind === 'typed' ? { ...part, type: { ...npn, earlyVoltage: early, rbb: 500 } } : part,
      ),
    );
    const at = biased(withBase);
    const currents = deviceCurrents(at.network, at.point, 'Q1');
    const rpi = vt / currents.base!;
    const moved = currents.collector! / collector;
    // 500 Ω of some 13 kΩ; the bias moves by 500 Ω in 1.2 MΩ, which `moved` puts back to first order.
    const expected = (modulus(gainAt(stage, hz)) * rpi * moved) / (rpi + 500);
    expect(Math.abs(modulus(gainAt(withBase, hz)) / expected - 1)).toBeLessThan(1e-4);
  });
});

describe('emitter follower', () => {
  it('gains (gm + 1/rπ)RE / (1 + (gm + 1/rπ)RE)', () => {
    const stage = circuit(
      [rail('vcc', 12)],
      [
        capacitor('C1', short, 'in', 'b'),
        resistor('R1', 100e3, 'vcc', 'b'),
        resistor('R2', 100e3, 'b', 'gnd'),
        resistor('R3', 2.2e3, 'out', 'gnd'),
        typed('Q1', npn, { collector: 'vcc', base: 'b', emitter: 'out' }),
      ],
    );
    const { network, point } = biased(stage);
    const drive = (-deviceCurrents(network, point, 'Q1').emitter! / vt) * 2.2e3;
    close(gainAt(stage, hz)[0], drive / (1 + drive));
  });
});

describe('cascade of two transistors', () => {
  const cob = 4e-12;
  const transit = { value: 120e6, at: 5e-3 };
  const second: BipolarType = { ...npn, Cob: cob, Cib: 9e-12, fT: transit };
  const stage = circuit(
    [rail('vcc', 15)],
    [
      capacitor('C1', short, 'in', 'b1'),
      resistor('R1', 2.2e6, 'vcc', 'b1'),
      resistor('R2', 6.8e3, 'vcc', 'c1'),
      typed('Q1', npn, { collector: 'c1', base: 'b1', emitter: 'gnd' }),
      capacitor('C2', short, 'c1', 'b2'),
      resistor('R3', 1.8e6, 'vcc', 'b2'),
      resistor('R4', 5.6e3, 'vcc', 'out'),
      typed('Q2', second, { collector: 'out', base: 'b2', emitter: 'gnd' }),
    ],
  );
  const { network, point } = biased(stage);
  const gm1 = deviceCurrents(network, point, 'Q1').collector! / vt;
  const { collector, base } = deviceCurrents(network, point, 'Q2') as { collector: number; base: number };
  const gm2 = collector / vt;
  const source = 1 / (1 / 6.8e3 + 1 / 1.8e6 + base / vt);
  const load = 5.6e3;
  // Charge control: τ = 1/(2π fT) − (Cib + Cob)(kT/q)/I, Cπ = gm τ + Cib.
  const cpi = gm2 * (1 / (2 * Math.PI * transit.value) - ((9e-12 + cob) * vt) / transit.at) + 9e-12;

  it('has the two poles and the zero of the Miller capacitance', () => {
    const frequencies = logFrequencies(1000, 10e6, 5);
    gains(stage, frequencies).forEach((gain, n) => {
      const omega = 2 * Math.PI * frequencies[n]!;
      // Gray & Meyer, Analysis and Design of Analog Integrated Circuits, the common-emitter stage (from memory, re-derived).
      const first = cpi * source + cob * (source + load + gm2 * source * load);
      const poles: Complex = [1 - omega ** 2 * cpi * cob * source * load, omega * first];
      const zero: Complex = [1, (-omega * cob) / gm2];
      const closedForm = scale(gm1 * source * gm2 * load, multiply(zero, inverse(poles)));
      // 1e-8 of the gain is 1e-7 dB.
      expect(Math.abs(decibels(gain) - decibels(closedForm))).toBeLessThan(1e-6);
    });
  });

  it('rolls off where Cπ + Cµ(1 + gm RL) meets the source resistance', () => {
    const corner = 1 / (2 * Math.PI * source * (cpi + cob * (1 + gm2 * load)));
    const ratio = modulus(gainAt(stage, corner)) / modulus(gainAt(stage, hz));
    // Miller's theorem leaves out the output pole, Cµ·RL against the input's time: a few parts in a thousand.
    expect(Math.abs(ratio / Math.SQRT1_2 - 1)).toBeLessThan(0.01);
  });
});

describe('junction FET', () => {
  const type: JfetType = { kind: 'jfet-n', IDSS: 6e-3, pinchOff: 1.5 };
  const stage = (bypassed: boolean, of: JfetType = type): ReturnType<typeof circuit> =>
    circuit(
      [rail('vdd', 24)],
      [
        resistor('R1', 1e6, 'in', 'gnd'),
        resistor('R2', 3.3e3, 'vdd', 'out'),
        resistor('R3', 470, 's', 'gnd'),
        ...(bypassed ? [capacitor('C1', short, 's', 'gnd')] : []),
        typed('J1', of, { drain: 'out', gate: 'in', source: 's' }),
      ],
    );
  const at = biased(stage(true));
  const drain = deviceCurrents(at.network, at.point, 'J1').drain!;

  it('settles on the square law', () => {
    // ID = IDSS(1 − ID·RS/VP)²: the smaller root of the quadratic.
    const { IDSS, pinchOff } = type;
    const share = 470 / pinchOff;
    const b = 2 * share + 1 / IDSS;
    const expected = (b - Math.sqrt(b * b - 4 * share * share)) / (2 * share * share);
    close(drain, expected);
  });

  it('gains −gm RD bypassed and −gm RD/(1 + gm RS) not, gm = 2√(IDSS·ID)/VP', () => {
    const gm = (2 * Math.sqrt(type.IDSS * drain)) / type.pinchOff;
    close(gainAt(stage(true), hz)[0], -gm * 3.3e3);
    close(gainAt(stage(false), hz)[0], (-gm * 3.3e3) / (1 + gm * 470));
  });

  it('loses gain to its output conductance yos·ID/IDSS', () => {
    const yos = 40e-6;
    const withOutput = stage(true, { ...type, yos });
    const { network, point } = biased(withOutput);
    const amps = deviceCurrents(network, point, 'J1').drain!;
    const vds = nodeVolts(network, point, 'out') - nodeVolts(network, point, 's');
    const lengthening = 1 + (yos / type.IDSS) * vds;
    const square = amps / lengthening;
    const gm = ((2 * Math.sqrt(type.IDSS * square)) / type.pinchOff) * lengthening;
    const gds = (yos * square) / type.IDSS;
    close(gainAt(withOutput, hz)[0], -gm / (1 / 3.3e3 + gds));
  });
});

describe('triode', () => {
  const type: TriodeType = { kind: 'triode', mu: 70, rp: 44e3, at: { Va: 200, Ia: 1e-3 } };
  const stage = (bypassed: boolean): ReturnType<typeof circuit> =>
    circuit(
      [rail('ht', 280)],
      [
        resistor('R1', 470e3, 'in', 'gnd'),
        resistor('R2', 100e3, 'ht', 'out'),
        resistor('R3', 2.7e3, 'k', 'gnd'),
        ...(bypassed ? [capacitor('C1', short, 'k', 'gnd')] : []),
        typed('V1', type, { anode: 'out', grid: 'in', cathode: 'k' }),
      ],
    );
  const { network, point } = biased(stage(true));
  // The three-halves-power law: rp falls as the cube root of the current.
  const rp = type.rp * Math.cbrt(type.at.Ia / deviceCurrents(network, point, 'V1').anode!);

  it('gains −µRL/(RL + rp) bypassed', () => {
    close(gainAt(stage(true), hz)[0], (-70 * 100e3) / (100e3 + rp));
  });

  it('gains −µRL/(RL + rp + (µ + 1)RK) with its cathode resistor open', () => {
    close(gainAt(stage(false), hz)[0], (-70 * 100e3) / (100e3 + rp + 71 * 2.7e3));
  });
});
