import { nodeVolts } from '@curvewright/network';
import { describe, expect, it } from 'vitest';
import { monoBoard, stageOf } from './stages.ts';

const [boltzmann, charge] = [1.380649e-23, 1.602176634e-19];
const room = 298.15;

/** Volts of a node with every part at a temperature (K). */
function voltsAt(board: ReturnType<typeof monoBoard>, kelvin: number, node: string): number {
  const { network, point } = stageOf({ ...board.circuit, ambient: kelvin });
  return nodeVolts(network, point, `${node}@mono`);
}

const diode = monoBoard(
  `
  R1: { kind: resistor, value: 11.4 kΩ, between: [vcc, d] }
  D1: { type: DA, anode: d, cathode: gnd }
  R2: { kind: resistor, value: 10 kΩ, between: [in, out] }
  R3: { kind: resistor, value: 10 kΩ, between: [out, gnd] }`,
  'rails: { vcc: { volts: 12 V } }\ntypes: { DA: { kind: diode, VF: { value: 600 mV, at: 1 mA }, ideality: 1 } }',
);

/**
 * The drop of that diode by hand: Shockley's law with Is(T) = Is(25 °C)·(T/298.15 K)³·exp(Eg/k·(1/298.15 K − 1/T)), Eg of silicon 1.12 eV
 * (Sze, Physics of Semiconductor Devices; from memory), fed from 12 V through 11.4 kΩ.
 */
function dropByHand(kelvin: number): number {
  const scale = (boltzmann * kelvin) / charge;
  const atRoom = 1e-3 / Math.expm1(0.6 / ((boltzmann * room) / charge));
  const rise = 3 * Math.log(kelvin / room) + ((1.12 * charge) / boltzmann) * (1 / room - 1 / kelvin);
  const saturation = atRoom * Math.exp(rise);
  let [low, high] = [0, 1];
  for (let n = 0; n < 200; n++) {
    const volts = (low + high) / 2;
    if (saturation * Math.expm1(volts / scale) < (12 - volts) / 11.4e3) low = volts;
    else high = volts;
  }
  return low;
}

describe('a warm board', () => {
  it.each([0, 25, 45, 60])('has the drop of a diode that was computed by hand, at %d °C', (celsius) => {
    const kelvin = celsius + 273.15;
    // A bias is solved to 1e-12 A here, on a slope resistance of 26 Ω; both exponents carry some 50 eps.
    expect(Math.abs(voltsAt(diode, kelvin, 'd') - dropByHand(kelvin))).toBeLessThan(1e-9);
  });

  it('loses about 2 mV of junction voltage for each kelvin (common practice, no source)', () => {
    const slope = (voltsAt(diode, 318.15, 'd') - voltsAt(diode, room, 'd')) / 20;
    expect(slope).toBeGreaterThan(-2.3e-3);
    expect(slope).toBeLessThan(-1.7e-3);
  });

  it('has the bias follow: what the junction loses is dropped by the emitter resistor', () => {
    const stage = monoBoard(
      `
      R1: { kind: resistor, value: 2.2 kΩ, between: [vcc, b] }
      R2: { kind: resistor, value: 470 Ω, between: [b, gnd] }
      R3: { kind: resistor, value: 4.7 kΩ, between: [vcc, out] }
      R4: { kind: resistor, value: 1 kΩ, between: [e, gnd] }
      R5: { kind: resistor, value: 10 kΩ, between: [in, gnd] }
      Q1: { type: HN, collector: out, base: b, emitter: e }`,
      'rails: { vcc: { volts: 12 V } }\ntypes: { HN: { kind: npn, hFE: 200, VBE: { value: 600 mV, at: 1 mA } } }',
    );
    const change = (node: string): number => voltsAt(stage, 318.15, node) - voltsAt(stage, room, node);
    const junction = change('b') - change('e');
    expect(junction).toBeLessThan(-0.034);
    expect(junction).toBeGreaterThan(-0.046);
    // The base current of 7 µA changes by 3 % in the 387 Ω of the divider: 0.1 mV.
    expect(Math.abs(change('e') + junction)).toBeLessThan(0.2e-3);
    // IC = IE·200/201 through 4.7 kΩ, exactly, but for the saturation currents.
    expect(Math.abs(change('out') + (4.7 * 200 * change('e')) / 201)).toBeLessThan(1e-8);
  });
});
