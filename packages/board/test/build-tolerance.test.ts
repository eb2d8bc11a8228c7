import { describe, expect, it } from 'vitest';
import type { Capacitor, Resistor } from '../src/circuit.ts';
import { toleranceOf } from '../src/build-tolerance.ts';
import { capacitorBuilds, resistorBuilds } from '../src/schema/part-schema.ts';

const common = { ref: 'R1', position: 'R1', channel: null, place: { file: 'b.yaml', line: 1, column: 1 } };
const resistor: Resistor = { ...common, kind: 'resistor', ohms: 1000, between: ['a', 'gnd'] };
const capacitor: Capacitor = {
  ...common,
  kind: 'capacitor',
  farads: 1e-6,
  plus: 'a',
  minus: 'gnd',
  polarised: false,
};

describe('toleranceOf', () => {
  it.each([
    ...resistorBuilds.map((build) => [build, { ...resistor, build }] as const),
    ...capacitorBuilds.map((build) => [build, { ...capacitor, build }] as const),
  ])('knows what %s usually keeps', (_, part) => {
    const found = toleranceOf(part);
    expect(found?.stated).toBe(false);
    expect(found?.tolerance.minus).toBeGreaterThan(0);
    // Nothing that is sold by its value is further off than this.
    expect(found?.tolerance.plus).toBeLessThanOrEqual(0.8);
  });

  it('takes what the file states over what the build usually keeps', () => {
    const tolerance = { minus: 0.1, plus: 0.5 };
    expect(toleranceOf({ ...capacitor, build: 'film', tolerance })).toEqual({ tolerance, stated: true });
  });

  it('knows none of a part that says neither, nor of one without a value', () => {
    expect(toleranceOf(resistor)).toBeNull();
    expect(toleranceOf({ ...common, kind: 'switch', pole: 'a', positions: { on: 'b' }, at: 'on' })).toBeNull();
  });
});
