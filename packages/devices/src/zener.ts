import type { ZenerType } from '@curvewright/board';
import type { Device } from './device.ts';
import { forwardDrop } from './forward-drop.ts';
import { holdStep, junction, junctionCurrent, junctionSlope, logSaturationThrough, type Junction } from './junction.ts';
import { shotDensity, thermalVoltage } from './physics.ts';
import { bisect } from './root.ts';

/** A silicon junction's forward drop where the file is silent; from memory. */
const silentForward = [{ value: 0.7, at: 10e-3 }];

/**
 * A zener diode, leads anode and cathode; control anode−cathode. The forward junction of a diode, and an exponential in reverse through
 * VZ at its current with the slope resistance rz there (as steep as kT/q where rz is silent). VZ does not move with temperature; no charge.
 */
export function zener(type: ZenerType, kelvin: number): Device {
  const forward = forwardDrop(type.VF ?? silentForward, 1, kelvin);
  const breakdown = reverseBranch(type, forward, kelvin);

  function evaluate(controls: Float64Array, currents: Float64Array, slopes: Float64Array): void {
    const volts = controls[0]!;
    const ahead = junctionCurrent(forward, volts);
    const back = junctionCurrent(breakdown, -volts);
    const slope = junctionSlope(forward, volts, ahead) + junctionSlope(breakdown, -volts, back);
    currents[0] = ahead - back;
    currents[1] = back - ahead;
    slopes[0] = slope;
    slopes[1] = -slope;
  }

  return {
    leads: ['anode', 'cathode'],
    controls: [[0, 1]],
    evaluate,
    store(_controls, charges, slopes) {
      charges.fill(0);
      slopes.fill(0);
    },
    limit(proposed, previous) {
      const wished = proposed[0]!;
      const held = holdStep(forward, wished, previous[0]!);
      proposed[0] = -holdStep(breakdown, -held, -previous[0]!);
      return proposed[0] !== wished;
    },
    start: [-type.VZ.value],
    noise(controls) {
      const currents = new Float64Array(2);
      evaluate(controls, currents, new Float64Array(2));
      // Avalanche noise above the shot noise has no figure on a datasheet.
      return [{ name: 'shot', quantity: 'current', between: [0, 1], density: shotDensity(currents[0]!), corner: 0 }];
    },
  };
}

/** The reverse exponential; it leaves out what the forward junction's saturation current already carries at VZ. */
function reverseBranch(type: ZenerType, forward: Junction, kelvin: number): Junction {
  const volts = type.VZ.value;
  const amps = type.VZ.at - forward.saturation;
  const scale = type.rz === undefined ? thermalVoltage(kelvin) : slopeVoltage(volts, amps, type.rz);
  return junction(logSaturationThrough(volts, amps, scale), scale);
}

/** s of I = A(e^{v/s} − 1) that passes through `amps` at `volts` with the slope 1/rz: y = v/s obeys y = c(1 − e^{−y}), c = v/(rz·I). */
function slopeVoltage(volts: number, amps: number, rz: number): number {
  const c = volts / (rz * amps);
  return volts / bisect((y) => y + c * Math.expm1(-y), Math.log(c), c);
}
