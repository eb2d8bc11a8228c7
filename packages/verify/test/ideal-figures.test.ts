import { describe, expect, it } from 'vitest';
import { idealFigures } from '../src/ideal-figures.ts';
import { monoBoard } from './stages.ts';

const silentOn = (parts: string, types: string = ''): Record<string, readonly string[]> =>
  Object.fromEntries(
    idealFigures(monoBoard(`R9: { kind: resistor, value: 1 kΩ, between: [in, out] }\n${parts}`, types).circuit).map(
      ({ figure, refs }) => [figure, refs],
    ),
  );

describe('idealFigures', () => {
  it('lists for each figure the capacitors whose file is silent on it', () => {
    expect(
      silentOn(`
      C1: { kind: capacitor, value: 1 µF, between: [in, out] }
      C2: { kind: capacitor, value: 1 µF, esr: 1 Ω, loss: 0.01, between: [in, out] }`),
    ).toEqual({ 'no leakage': ['C1', 'C2'], 'no ESR': ['C1'], 'no dielectric loss': ['C1'] });
  });

  it('is empty where every figure is stated', () => {
    expect(
      silentOn('C1: { kind: capacitor, value: 1 µF, esr: 1 Ω, loss: 0.01, leakage: 1 GΩ, between: [in, out] }'),
    ).toEqual({});
  });

  it('lists what a transistor type leaves out, and an fT without its current', () => {
    const place = 'Q1: { type: T, collector: in, base: out, emitter: gnd }';
    const type = (more: string): string =>
      `types: { T: { kind: npn, hFE: 200, VBE: { value: 600 mV, at: 1 mA }${more} } }`;
    expect(Object.keys(silentOn(place, type('')))).toEqual([
      'no Early effect',
      'no fT: no storage time',
      'no Cob',
      'no rbb',
    ]);
    expect(Object.keys(silentOn(place, type(', early_voltage: 90 V, fT: 100 MHz, Cob: 3 pF, rbb: 100 Ω')))).toEqual([
      'fT taken at the solved current: flattering when low',
    ]);
    expect(
      silentOn(place, type(', early_voltage: 90 V, fT: { value: 100 MHz, at: 10 mA }, Cob: 3 pF, rbb: 100 Ω')),
    ).toEqual({});
  });

  it('lists what an op-amp leaves out: no rails, no output limits', () => {
    const types = 'types: { T: { kind: opamp, gain: 100 dB } }\nrails: { vcc: { volts: 9 V }, vee: { volts: -9 V } }';
    expect(Object.keys(silentOn('U1: { type: T, plus: in, minus: out, out: out }', types))).toEqual([
      'infinite GBW',
      'no Rout',
      'no output limits',
    ]);
    const railed = 'U1: { type: T, plus: in, minus: out, out: out, rails: [vcc, vee] }';
    expect(Object.keys(silentOn(railed, types))).toContain('swings to its rails');
  });

  it.each([
    [
      'jfet-n, IDSS: 6 mA, VGS_off: -1 V',
      'J1: { type: T, drain: in, gate: out, source: gnd }',
      ['no yos', 'no Crss', 'no Ciss'],
    ],
    [
      'triode, mu: 100, rp: 62.5 kΩ, at: { Va: 250 V, Ia: 1.2 mA }',
      'V1: { type: T, anode: in, grid: out, cathode: gnd }',
      ['no Cag', 'no Cgk'],
    ],
    [
      'zener, VZ: { value: 12 V, at: 5 mA }',
      'D1: { type: T, anode: in, cathode: gnd }',
      ['no rz', 'forward drop 0.7 V at 10 mA'],
    ],
  ])('lists what a %s leaves out', (type, part, expected) => {
    expect(Object.keys(silentOn(part, `types: { T: { kind: ${type} } }`))).toEqual(expected);
  });
});
