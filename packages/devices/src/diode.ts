import type { DiodeType } from '@curvewright/board';
import type { Device } from './device.ts';
import { forwardDrop } from './forward-drop.ts';
import { holdStep, junctionCurrent, junctionSlope } from './junction.ts';
import { shotDensity } from './physics.ts';

/**
 * A diode, leads anode and cathode; control anode−cathode. I = Is(e^{v/(n·kT/q)} − 1) (Shockley) through its VF figures; no series
 * resistance, no breakdown, no charge, since no figure gives them.
 */
export function diode(type: DiodeType, kelvin: number): Device {
  const forward = forwardDrop(type.VF, type.ideality ?? 1, kelvin);
  return {
    leads: ['anode', 'cathode'],
    controls: [[0, 1]],
    evaluate(controls, currents, slopes) {
      const volts = controls[0]!;
      const amps = junctionCurrent(forward, volts);
      const slope = junctionSlope(forward, volts, amps);
      currents[0] = amps;
      currents[1] = -amps;
      slopes[0] = slope;
      slopes[1] = -slope;
    },
    store(_controls, charges, slopes) {
      charges.fill(0);
      slopes.fill(0);
    },
    limit(proposed, previous) {
      const wished = proposed[0]!;
      proposed[0] = holdStep(forward, wished, previous[0]!);
      return proposed[0] !== wished;
    },
    start: [type.VF[0]?.value ?? 0],
    noise(controls) {
      // Both directions of Shockley's law make noise: 2q(I + 2Is), at rest equal to the Johnson noise of the slope (van der Ziel; from memory).
      const density = shotDensity(junctionCurrent(forward, controls[0]!) + 2 * forward.saturation);
      return [{ name: 'shot', quantity: 'current', between: [0, 1], density, corner: 0 }];
    },
  };
}
