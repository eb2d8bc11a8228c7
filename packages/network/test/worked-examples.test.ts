import type { BipolarType, DiodeType, Part, TriodeType } from '@curvewright/board';
import { deviceOf, thermalVoltage } from '@curvewright/devices';
import { describe, expect, it } from 'vitest';
import { deviceCurrents, nodeVolts } from '../src/index.ts';
import { capacitor, circuit, rail, resistor, typed } from './circuits.ts';
import { modulus } from './complex.ts';
import { biased, gainAt } from './solved.ts';

/** A transistor of the textbooks: constant current gain, and `volts` of base-emitter voltage at the example's own collector current. */
function transistor(beta: number, collectorAmps: number, volts = 0.7): BipolarType {
  return { kind: 'npn', hFE: [{ value: beta, at: 0 }], VBE: { value: volts, at: collectorAmps } };
}

/** The printed digits: `digits` decimals after scaling. */
const printed = (value: number, digits: number): string => value.toFixed(digits);

// Large enough to be a short circuit at 1 kHz to 1e-4 of the resistances around them.
const bypass = 1;

describe('bias of textbook stages, held to their printed digits', () => {
  it('divider bias: Malvino, Electronic Principles 7e, example 8-3', () => {
    const stage = circuit(
      [rail('vcc', 10)],
      [
        resistor('R1', 10e3, 'vcc', 'b'),
        resistor('R2', 2.2e3, 'b', 'gnd'),
        resistor('R3', 3.6e3, 'vcc', 'out'),
        resistor('R4', 1e3, 'e', 'gnd'),
        typed('Q1', transistor(200, (1.09e-3 * 200) / 201), { collector: 'out', base: 'b', emitter: 'e' }),
      ],
    );
    const { network, point } = biased(stage);
    expect(printed(-deviceCurrents(network, point, 'Q1').emitter! * 1e3, 2)).toBe('1.09');
  });

  it('base resistor from its own supply: Millman & Halkias, Integrated Electronics, 5-1b (values seen, answer computed)', () => {
    const stage = circuit(
      [rail('vbb', 5), rail('vcc', 10)],
      [
        resistor('R1', 200e3, 'vbb', 'b'),
        resistor('R2', 2e3, 'e', 'gnd'),
        resistor('R3', 3e3, 'vcc', 'out'),
        typed('Q1', transistor(100, 1.0697e-3), { collector: 'out', base: 'b', emitter: 'e' }),
      ],
    );
    const { network, point } = biased(stage);
    const { base, collector } = deviceCurrents(network, point, 'Q1');
    expect(printed(base! * 1e6, 2)).toBe('10.70');
    expect(printed(collector! * 1e3, 4)).toBe('1.0697');
    expect(printed(nodeVolts(network, point, 'out') - nodeVolts(network, point, 'b'), 3)).toBe('3.930');
  });

  it('divider bias: Sedra & Smith, Microelectronic Circuits (from memory)', () => {
    const stage = circuit(
      [rail('vcc', 15)],
      [
        resistor('R1', 100e3, 'vcc', 'b'),
        resistor('R2', 50e3, 'b', 'gnd'),
        resistor('R3', 5e3, 'vcc', 'out'),
        resistor('R4', 3e3, 'e', 'gnd'),
        typed('Q1', transistor(100, 1.28e-3), { collector: 'out', base: 'b', emitter: 'e' }),
      ],
    );
    const { network, point } = biased(stage);
    const { collector, emitter } = deviceCurrents(network, point, 'Q1');
    expect(printed(-emitter! * 1e3, 2)).toBe('1.29');
    expect(printed(collector! * 1e3, 2)).toBe('1.28');
    expect(printed(nodeVolts(network, point, 'b'), 2)).toBe('4.57');
    expect(printed(nodeVolts(network, point, 'out'), 1)).toBe('8.6');
  });
});

describe('gain of textbook stages', () => {
  it('bypassed emitter: Malvino, Electronic Principles 7e, example 10-1', () => {
    const beta = 200;
    // The book works on with 1.1 mA of emitter current: the base-emitter voltage that leaves it is 10 V · 2.2/12.2 less the drops.
    const amps = 1.1e-3;
    const volts = (10 * 2.2) / 12.2 - amps * 1e3 - (amps / (beta + 1)) * ((10e3 * 2.2e3) / 12.2e3);
    const stage = circuit(
      [rail('vcc', 10)],
      [
        capacitor('C1', bypass, 'in', 'b'),
        resistor('R1', 10e3, 'vcc', 'b'),
        resistor('R2', 2.2e3, 'b', 'gnd'),
        resistor('R3', 3.6e3, 'vcc', 'c'),
        resistor('R4', 1e3, 'e', 'gnd'),
        capacitor('C2', bypass, 'e', 'gnd'),
        capacitor('C3', bypass, 'c', 'out'),
        typed('Q1', transistor(beta, (amps * beta) / (beta + 1), volts), {
          collector: 'c',
          base: 'b',
          emitter: 'e',
        }),
      ],
      { load: { resistance: 10e3 } },
    );
    const { network, point } = biased(stage);
    expect(printed(-deviceCurrents(network, point, 'Q1').emitter! * 1e3, 3)).toBe('1.100');
    // The book takes kT/q as 25 mV and the collector's current for the emitter's: both are put back before comparing.
    const likeTheBook = ((thermalVoltage(298.15) / 25e-3) * (beta + 1)) / beta;
    const gain = modulus(gainAt(stage, 1000)) * likeTheBook;
    expect(printed((3.6e3 * 10e3) / 13.6e3 / gain, 1)).toBe('22.7');
    expect(printed(2.2 * gain, 0)).toBe('256');
  });

  it('triode with µ 100 and rp 80 kΩ into 220 kΩ ∥ 470 kΩ: 65.2 (seen, angelfire funwithtubes 4.1)', () => {
    const type: TriodeType = { kind: 'triode', mu: 100, rp: 80e3, at: { Va: 150, Ia: 0.5e-3 } };
    const { Va, Ia } = type.at;
    // The valve stands at its stated point, where µ and rp hold: E = vg + Va/µ = 1.5·Ia·rp/µ there.
    const bias = Va / type.mu - (1.5 * Ia * type.rp) / type.mu;
    const stage = circuit(
      [rail('ht', Va + bias + Ia * 220e3)],
      [
        capacitor('C1', bypass, 'in', 'g'),
        resistor('R1', 1e6, 'g', 'gnd'),
        resistor('R2', bias / Ia, 'k', 'gnd'),
        capacitor('C2', bypass, 'k', 'gnd'),
        resistor('R3', 220e3, 'ht', 'a'),
        capacitor('C3', bypass, 'a', 'out'),
        typed('V1', type, { anode: 'a', grid: 'g', cathode: 'k' }),
      ],
      { load: { resistance: 470e3 } },
    );
    const { network, point } = biased(stage);
    expect(deviceCurrents(network, point, 'V1').anode).toBeCloseTo(Ia, 12);
    expect(printed(modulus(gainAt(stage, 1000)), 1)).toBe('65.2');
  });
});

describe('diodes in series', () => {
  const kelvin = 300;
  const saturationAt300 = 1e-14;

  /** The type whose saturation current is 1e-14 A at 300 K, through its forward voltage at 25 °C. */
  function junctionOfThePublishedValues(): DiodeType {
    const through = (saturation: number): DiodeType => ({
      kind: 'diode',
      VF: [{ value: thermalVoltage(298.15) * Math.log1p(1e-3 / saturation), at: 1e-3 }],
    });
    // What a reverse-biased junction passes is its saturation current: it says how far 300 K lies above 25 °C.
    const currents = new Float64Array(2);
    deviceOf(through(saturationAt300), kelvin).evaluate(Float64Array.of(-5), currents, new Float64Array(2));
    return through(saturationAt300 ** 2 / -currents[0]!);
  }
  const type = junctionOfThePublishedValues();
  const string = (count: number, from: string, to: string, of: DiodeType): Part[] =>
    Array.from({ length: count }, (_, i) =>
      typed(`D${i + 1}`, of, {
        anode: i === 0 ? from : `d${i}`,
        cathode: i === count - 1 ? to : `d${i + 1}`,
      }),
    );

  it('5 V through 1 kΩ: 4.30746 mA with one, 3.62385 mA with two of 1e-14 A at 300 K (computed from Shockley’s law)', () => {
    for (const [count, milliamps] of [
      [1, '4.30746'],
      [2, '3.62385'],
    ] as const) {
      const parts = [resistor('R1', 1e3, 'vcc', 'out'), ...string(count, 'out', 'gnd', type)];
      const { network, point } = biased(circuit([rail('vcc', 5)], parts, { ambient: kelvin }));
      expect(printed(deviceCurrents(network, point, 'D1').anode! * 1e3, 5)).toBe(milliamps);
    }
  });

  it('carry 1 mA at 0.65479 V each (computed from Shockley’s law)', () => {
    const supply = 100 + 2 * 0.65479;
    const parts = [resistor('R1', 100e3, 'vcc', 'out'), ...string(2, 'out', 'gnd', type)];
    const { network, point } = biased(circuit([rail('vcc', supply)], parts, { ambient: kelvin }));
    expect(deviceCurrents(network, point, 'D1').anode! * 1e3).toBeCloseTo(1, 6);
    expect(printed(nodeVolts(network, point, 'd1'), 5)).toBe('0.65479');
    expect(printed(nodeVolts(network, point, 'out') - nodeVolts(network, point, 'd1'), 5)).toBe('0.65479');
  });

  it('give twice the drop of one at the same current (common practice, no source)', () => {
    const silicon: DiodeType = {
      kind: 'diode',
      VF: [
        { value: 0.62, at: 1e-3 },
        { value: 0.74, at: 10e-3 },
      ],
    };
    const amps = 2.5e-3;
    // A supply of 1 GV behind 1 GV/I is a current source to 1e-9.
    const drop = (count: number): number => {
      const parts = [resistor('R1', 1e9 / amps, 'vcc', 'out'), ...string(count, 'out', 'gnd', silicon)];
      const { network, point } = biased(circuit([rail('vcc', 1e9)], parts));
      return nodeVolts(network, point, 'out');
    };
    expect(drop(1)).toBeGreaterThan(0.6);
    expect(drop(2) / drop(1)).toBeCloseTo(2, 8);
  });
});
