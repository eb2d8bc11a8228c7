import { agePart, type Board, type Fault } from '@curvewright/board';
import { deviceCurrents, nodeVolts } from '@curvewright/network';
import { describe, expect, it } from 'vitest';
import { monoBoard, probeOf, stageOf } from './stages.ts';

/** kT/q at 25 °C from the SI constants of 2019. */
const vt = (1.380649e-23 * 298.15) / 1.602176634e-19;

/** Volts of a node with one fault in the board. */
function volts(board: Board, node: string, ...faults: readonly (readonly [string, Fault])[]): number {
  const { network, point } = stageOf(faults.reduce((circuit, fault) => agePart(circuit, ...fault), board.circuit));
  return nodeVolts(network, point, node === 'vcc' || node === 'gnd' ? node : `${node}@mono`);
}

function collectorAmps(board: Board, ...fault: readonly [string, Fault]): number {
  const { network, point } = stageOf(agePart(board.circuit, ...fault));
  return deviceCurrents(network, point, 'Q1').collector!;
}

/** Where a rising function passes zero, by halving. */
function zeroOf(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let n = 0; n < 200; n++) {
    const middle = (a + b) / 2;
    if (f(middle) < 0) a = middle;
    else b = middle;
  }
  return a;
}

/** A stage biased by a divider, hFE constant, no Early effect: simple enough to be computed by hand. */
const stage = monoBoard(
  `
  C1: { kind: capacitor, value: 1 µF, plus: b, minus: in }
  R1: { kind: resistor, value: 220 kΩ, between: [vcc, b] }
  R2: { kind: resistor, value: 47 kΩ, between: [b, gnd] }
  R3: { kind: resistor, value: 4.7 kΩ, between: [vcc, c] }
  R4: { kind: resistor, value: 1 kΩ, between: [e, gnd] }
  Q1: { type: HN, collector: c, base: b, emitter: e }
  C2: { kind: capacitor, value: 1 µF, plus: c, minus: out }
  R5: { kind: resistor, value: 100 kΩ, between: [out, gnd] }`,
  `rails: { vcc: { volts: 12 V } }
types: { HN: { kind: npn, hFE: 100, VBE: { value: 600 mV, at: 1 mA } } }`,
);

/** The node equations of that stage by hand: Kirchhoff at the base with IC = Is·e^(vbe/VT), where `leak` Ω lie from the base to the 0 V of the input. */
function byHand(leak: number, ICBO = 0): { base: number; collector: number } {
  const saturation = 1e-3 / Math.exp(0.6 / vt);
  const collectorOf = (vbe: number): number => saturation * Math.exp(vbe / vt);
  const baseAt = (vbe: number): number => vbe + 1e3 * (1.01 * collectorOf(vbe));
  const vbe = zeroOf(
    (v) => baseAt(v) / 47e3 + baseAt(v) / leak + collectorOf(v) / 100 - ICBO - (12 - baseAt(v)) / 220e3,
    0.3,
    0.8,
  );
  return { base: baseAt(vbe), collector: 12 - 4.7e3 * (collectorOf(vbe) + ICBO) };
}

/** V. The hand computation leaves out the saturation currents of the junctions, some 1e-13 A in a base node of 38 kΩ; the rest is rounding. */
const handLeavesOut = 1e-8;

describe('capacitors', () => {
  it('a leaky coupling capacitor pulls the bias down as computed by hand', () => {
    const sound = byHand(Infinity);
    expect(Math.abs(volts(stage, 'b') - sound.base)).toBeLessThan(handLeavesOut);
    const leaky = byHand(100e3);
    expect(leaky.base).toBeLessThan(sound.base - 0.3);
    const fault: readonly [string, Fault] = ['C1', { kind: 'leaky', ohms: 100e3 }];
    expect(Math.abs(volts(stage, 'b', fault) - leaky.base)).toBeLessThan(handLeavesOut);
    expect(Math.abs(volts(stage, 'c', fault) - leaky.collector)).toBeLessThan(100 * handLeavesOut);
  });

  it('a short one ties the base to the input', () => {
    expect(volts(stage, 'b', ['C1', { kind: 'short' }])).toBe(0);
  });

  it('an open one leaves the bias as it was, and no signal', () => {
    const fault: readonly [string, Fault] = ['C2', { kind: 'open' }];
    // The gap of 100 GΩ passes 0.1 nA at most: 0.5 µV over 4.7 kΩ.
    expect(Math.abs(volts(stage, 'c', fault) - volts(stage, 'c'))).toBeLessThan(1e-6);
    const [sound, open] = [stage.circuit, agePart(stage.circuit, ...fault)].map((circuit) =>
      probeOf(circuit).reader.gainDb(0, 1000),
    );
    // 100 kΩ under 100 GΩ instead of under 159 Ω: −120 dB.
    expect(open! - sound!).toBeLessThan(-119);
  });

  it('a dried one rolls off at 1/(2π·C·R) of what is left of it', () => {
    const [value, esr, around] = [0.1e-6, 300, 4.7e3 + 100e3];
    const corner = 1 / (2 * Math.PI * value * (around + esr));
    const gain = (fault: Fault): number => probeOf(agePart(stage.circuit, 'C2', fault)).reader.gainDb(0, corner);
    // Against a capacitor of 1 F: half the power, and the ESR beside the 104.7 kΩ. 1e-9 dB: what the solve is held to elsewhere.
    const expected = 20 * Math.log10((Math.SQRT1_2 * around) / (around + esr));
    const lost = gain({ kind: 'dried', value, esr }) - gain({ kind: 'drifted', value: 1 });
    expect(Math.abs(lost - expected)).toBeLessThan(1e-9);
  });
});

describe('transistors', () => {
  it('a leaky one: ICBO goes into the base as if from outside, and through the collector', () => {
    const leaky = byHand(Infinity, 10e-6);
    const fault: readonly [string, Fault] = ['Q1', { kind: 'leaky_transistor', ICBO: 10e-6 }];
    expect(leaky.collector).toBeLessThan(byHand(Infinity).collector - 0.5);
    expect(Math.abs(volts(stage, 'b', fault) - leaky.base)).toBeLessThan(handLeavesOut);
    expect(Math.abs(volts(stage, 'c', fault) - leaky.collector)).toBeLessThan(100 * handLeavesOut);
  });

  it('low hFE: the base takes more, by hand', () => {
    const saturation = 1e-3 / Math.exp(0.6 / vt);
    const vbe = zeroOf(
      (v) => {
        const amps = saturation * Math.exp(v / vt);
        const base = v + 1e3 * 1.1 * amps;
        return base / 47e3 + amps / 10 - (12 - base) / 220e3;
      },
      0.3,
      0.8,
    );
    const expected = vbe + 1e3 * 1.1 * saturation * Math.exp(vbe / vt);
    expect(Math.abs(volts(stage, 'b', ['Q1', { kind: 'low_hFE', hFE: 10 }]) - expected)).toBeLessThan(handLeavesOut);
  });

  it('base-emitter short: no collector current; the base is a divider onto the emitter resistor', () => {
    const fault: readonly [string, Fault] = ['Q1', { kind: 'junction_short', junction: 'base_emitter' }];
    const lower = 1 / (1 / 47e3 + 1 / 1e3);
    expect(Math.abs(volts(stage, 'b', fault) - (12 * lower) / (220e3 + lower))).toBeLessThan(handLeavesOut);
    expect(volts(stage, 'e', fault)).toBe(volts(stage, 'b', fault));
    // The collector junction is reverse biased: its saturation current of 1e-13 A over 4.7 kΩ.
    expect(Math.abs(volts(stage, 'c', fault) - 12)).toBeLessThan(1e-8);
  });

  it('base-collector short: a diode between them and the emitter', () => {
    const fault: readonly [string, Fault] = ['Q1', { kind: 'junction_short', junction: 'base_collector' }];
    const saturation = 1e-3 / Math.exp(0.6 / vt);
    const conductance = 1 / 220e3 + 1 / 4.7e3;
    const vbe = zeroOf(
      (v) => {
        const amps = 1.01 * saturation * Math.exp(v / vt);
        const node = v + 1e3 * amps;
        return amps + node / 47e3 - (12 - node) * conductance;
      },
      0.3,
      0.8,
    );
    const node = vbe + 1e3 * 1.01 * saturation * Math.exp(vbe / vt);
    expect(Math.abs(volts(stage, 'c', fault) - node)).toBeLessThan(handLeavesOut);
    expect(volts(stage, 'b', fault)).toBe(volts(stage, 'c', fault));
  });

  it('collector-emitter short: a divider of R3 and R4', () => {
    const fault: readonly [string, Fault] = ['Q1', { kind: 'junction_short', junction: 'collector_emitter' }];
    // Base at 2.1 V at most and emitter too: what little the junctions then pass into 825 Ω moves it by under a millivolt.
    expect(Math.abs(volts(stage, 'c', fault) - (12 * 1e3) / 5.7e3)).toBeLessThan(1e-3);
  });

  it('an open joint at base or emitter stops the collector current', () => {
    for (const lead of ['base', 'emitter']) {
      // The gap passes 0.1 nA at most, times hFE of 100.
      expect(Math.abs(collectorAmps(stage, 'Q1', { kind: 'open_joint', lead }))).toBeLessThan(12e-9);
    }
  });

  it('an open collector leaves the base-emitter diode, by the reverse gain of 5', () => {
    const fault: readonly [string, Fault] = ['Q1', { kind: 'junction_open', junction: 'base_collector' }];
    // No collector current: If = Ir·6/5, so that the base takes If/100 + If·(5/6)/5.
    const share = 1 / 100 + 1 / 6;
    const saturation = 1e-3 / Math.exp(0.6 / vt);
    const vbe = zeroOf(
      (v) => {
        const amps = share * saturation * Math.exp(v / vt);
        const node = v + 1e3 * amps;
        return amps + node / 47e3 - (12 - node) / 220e3;
      },
      0.2,
      0.8,
    );
    const node = vbe + 1e3 * share * saturation * Math.exp(vbe / vt);
    // The gap brings 0.12 nA to the collector, beside a base current of some 30 µA.
    expect(Math.abs(volts(stage, 'b', fault) - node)).toBeLessThan(1e-6);
  });
});

describe('joints, contacts, tracks and wipers', () => {
  const plugged = monoBoard(
    `
    R1: { kind: resistor, value: 10 kΩ, between: [in, a] }
    S1: { kind: switch, pole: a, positions: { riaa: out, flat: b }, at: riaa }
    R2: { kind: resistor, value: 10 kΩ, between: [out, gnd] }
    R3: { kind: resistor, value: 10 kΩ, between: [b, gnd] }
    VR1: { kind: trimmer, value: 10 kΩ, turn: 25 %, between: [vcc, gnd], wiper: w }
    R4: { kind: resistor, value: 30 kΩ, between: [w, gnd] }`,
    'rails: { vcc: { volts: 12 V } }',
  );
  const gain = (...fault: readonly [string, Fault]): number =>
    10 ** (probeOf(agePart(plugged.circuit, ...fault)).reader.gainDb(0, 1000) / 20);

  it('a dirty selector contact stands in series with the signal', () => {
    // 10 kΩ under 10 kΩ and the contact; 1e-12: rounding of a solve of six unknowns and of the decibel.
    expect(Math.abs(gain('S1', { kind: 'contact', lead: 'pole', ohms: 5e3 }) - 10 / 25)).toBeLessThan(1e-12);
    expect(Math.abs(gain('S1', { kind: 'open' }) - 1e4 / 100e9)).toBeLessThan(1e-13);
    expect(Math.abs(gain('R2', { kind: 'open_joint', lead: '2' }) - 1)).toBeLessThan(2e-7);
  });

  it('a dirty wiper contact stands between the track and what it feeds; an open one feeds nothing', () => {
    const track = 1 / (1 / 2.5e3 + 1 / 7.5e3);
    const fed = (contact: number): number => (0.75 * 12 * 30e3) / (30e3 + track + contact);
    expect(volts(plugged, 'w')).toBeCloseTo(fed(0), 11);
    expect(volts(plugged, 'w', ['VR1', { kind: 'contact', lead: 'wiper', ohms: 20e3 }])).toBeCloseTo(fed(20e3), 11);
    const open = agePart(plugged.circuit, 'VR1', { kind: 'wiper_open' });
    const held = { ...open, parts: open.parts.filter(({ ref }) => ref !== 'R4') };
    const { network, point } = stageOf(held);
    expect(nodeVolts(network, point, 'vcc')).toBe(12);
    expect(network.conductances.find(({ ref }) => ref === 'VR1')!.siemens).toBeCloseTo(1e-4, 15);
  });

  it('a cracked track cuts off all that lies beyond it', () => {
    const beyond = [{ position: 'R1', lead: '2' }];
    const cracked = agePart(stage.circuit, 'R2', { kind: 'cracked_track', lead: '1', beyond });
    const { network, point } = stageOf(cracked);
    // R1 over R2 without the base, 12 V·47/267; the gap takes 20 pA at most out of their 39 kΩ.
    expect(Math.abs(nodeVolts(network, point, 'R2.1@mono') - (12 * 47) / 267)).toBeLessThan(1e-6);
    expect(Math.abs(deviceCurrents(network, point, 'Q1').collector!)).toBeLessThan(12e-9);
  });
});
