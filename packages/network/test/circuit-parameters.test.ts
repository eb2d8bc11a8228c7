import type { PartType } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { loneParts } from '../src/circuit-parameters.ts';
import { typeParameters } from '../src/type-parameters.ts';
import { capacitor, circuit, inductor, rail, resistor } from './circuits.ts';

describe('the parameters of a circuit', () => {
  const whole = circuit(
    [rail('vcc', -20, 2), rail('vee', 12)],
    [
      resistor('R1', 1e3, 'in', 'out'),
      resistor('R2', 0, 'out', 'x'),
      capacitor('C1', 1e-6, 'out', 'gnd', { esr: 3, leakage: 1e6, loss: 0.02 }),
      capacitor('C2', 1e-9, 'out', 'gnd', { esr: 0 }),
      inductor('L1', 1e-3, 4, 'out', 'gnd'),
    ],
    { load: { resistance: 47e3 } },
  );
  const all = loneParts(whole).flatMap(({ parameters }) => parameters);

  it('are its values under the keys of the file, without those of 0', () => {
    expect(all.map(({ ref, parameter, nominal }) => [ref, parameter, nominal])).toEqual([
      ['R1', 'value', 1e3],
      ['C1', 'value', 1e-6],
      ['C1', 'esr', 3],
      ['C1', 'leakage', 1e6],
      ['C1', 'loss', 0.02],
      ['C2', 'value', 1e-9],
      ['L1', 'value', 1e-3],
      ['L1', 'resistance', 4],
      ['vcc', 'volts', -20],
      ['vcc', 'resistance', 2],
      ['vee', 'volts', 12],
      ['load@mono', 'resistance', 47e3],
    ]);
  });

  it('move alone: what is doubled has twice its value, and nothing else has moved', () => {
    for (const { ref, parameter, times } of all) {
      const moved = loneParts(times(whole, 2)).flatMap(({ parameters }) => parameters);
      moved.forEach((each, i) => {
        const factor = each.ref === ref && each.parameter === parameter ? 2 : 1;
        expect(each.nominal).toBe(factor * all[i]!.nominal);
      });
    }
  });
});

describe('the figures of a type', () => {
  const doubled = (type: PartType, name: string): PartType =>
    typeParameters(type)
      .find(({ parameter }) => parameter === name)!
      .times(2);
  const hFE = [
    { value: 200, at: 1e-5 },
    { value: 300, at: 1e-3 },
  ];
  const transistor: PartType = {
    kind: 'npn',
    hFE,
    VBE: { value: 0.6, at: 1e-3 },
    earlyVoltage: 90,
    fT: { value: 150e6, at: 5e-3 },
    Cob: 3e-12,
    rbb: 0,
    noiseCorner: 300,
    VCEO: 50,
  };

  it('are those that bias or response depend on, as the file names them', () => {
    const names = (type: PartType): string[] => typeParameters(type).map(({ parameter }) => parameter);
    expect(names(transistor)).toEqual(['hFE', 'VBE', 'early_voltage', 'fT', 'Cob']);
    expect(names({ kind: 'opamp', gain: 1e5, swing: { above: 1, below: 0 }, en: 4e-9 })).toEqual([
      'gain',
      'swing.above',
    ]);
    expect(names({ kind: 'jfet-p', IDSS: 6e-3, pinchOff: 1, yos: 20e-6 })).toEqual(['IDSS', 'VGS_off', 'yos']);
    expect(names({ kind: 'triode', mu: 100, rp: 62.5e3, at: { Va: 250, Ia: 1.2e-3 }, Cag: 1e-12 })).toEqual([
      'mu',
      'rp',
      'Ia',
      'Cag',
    ]);
    expect(names({ kind: 'zener', VZ: { value: 12, at: 5e-3 }, rz: 10 })).toEqual(['VZ', 'rz']);
  });

  it('move at all their points, at the currents at which they were read', () => {
    expect(doubled(transistor, 'hFE')).toEqual({
      ...transistor,
      hFE: hFE.map(({ value, at }) => ({ value: 2 * value, at })),
    });
    expect(doubled(transistor, 'fT')).toEqual({ ...transistor, fT: { value: 300e6, at: 5e-3 } });
    const diode: PartType = {
      kind: 'diode',
      VF: [
        { value: 1.2, at: 1e-3 },
        { value: 1.35, at: 1e-2 },
      ],
    };
    expect(doubled(diode, 'VF')).toEqual({
      kind: 'diode',
      VF: [
        { value: 2.4, at: 1e-3 },
        { value: 2.7, at: 1e-2 },
      ],
    });
  });
});
