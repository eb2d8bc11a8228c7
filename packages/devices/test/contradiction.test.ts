import fc from 'fast-check';
import { expect, test } from 'vitest';
import { contradiction, datasheetKelvin, deviceOf, type DeviceType } from '../src/index.ts';
import { anyType, jfetN, npn, run } from './invented-types.ts';

const refused: [string, DeviceType, string][] = [
  ['negative transit time', { ...npn, fT: { value: 300e6, at: 0.1e-3 } }, 'transit-time'],
  [
    'hFE rising faster than the current',
    {
      ...npn,
      hFE: [
        { value: 20, at: 1e-6 },
        { value: 200, at: 2e-6 },
      ],
    },
    'out-of-range',
  ],
  [
    'VF rising like a resistor',
    {
      kind: 'diode',
      VF: [
        { value: 0.6, at: 1e-3 },
        { value: 1.2, at: 2e-3 },
      ],
    },
    'out-of-range',
  ],
  [
    'VF falling',
    {
      kind: 'zener',
      VZ: { value: 12, at: 5e-3 },
      VF: [
        { value: 0.7, at: 1e-3 },
        { value: 0.6, at: 1e-2 },
      ],
    },
    'out-of-range',
  ],
  ['rz larger than VZ/IZ', { kind: 'zener', VZ: { value: 5, at: 50e-3 }, rz: 100 }, 'out-of-range'],
  ['Ciss smaller than Crss', { ...jfetN, Ciss: 3e-12 }, 'out-of-range'],
];

test.each(refused)('%s is refused', (_, type, code) => {
  expect(contradiction(type)?.code).toBe(code);
  expect(() => deviceOf(type, datasheetKelvin)).toThrow(RangeError);
});

test('figures of ordinary parts are not', () => {
  fc.assert(
    fc.property(anyType, (type) => {
      expect(contradiction(type)).toBeNull();
    }),
    run,
  );
});
