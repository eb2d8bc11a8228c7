import type { OpAmpType, PartType } from '@curvewright/board';
import { bipolar } from './bipolar.ts';
import { contradiction } from './contradiction.ts';
import type { Device } from './device.ts';
import { diode } from './diode.ts';
import { jfet } from './jfet.ts';
import { triode } from './triode.ts';
import { zener } from './zener.ts';

/** Part types that are a Device; an op-amp brings an equation of its own. */
export type DeviceType = Exclude<PartType, OpAmpType>;

/** The part's equations at its temperature (K). Throws a RangeError for figures that `contradiction` names. */
export function deviceOf(type: DeviceType, kelvin: number): Device {
  const wrong = contradiction(type);
  if (wrong) throw new RangeError(wrong.message);
  switch (type.kind) {
    case 'npn':
    case 'pnp':
      return bipolar(type, kelvin);
    case 'diode':
      return diode(type, kelvin);
    case 'zener':
      return zener(type, kelvin);
    case 'jfet-n':
    case 'jfet-p':
      return jfet(type, kelvin);
    case 'triode':
      return triode(type);
  }
}
