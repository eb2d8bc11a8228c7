import { deviceWindows } from './device-windows.ts';
import type { Equations } from './equations.ts';

/**
 * Takes the control voltages that x gives into `equations.controls`, each device holding them to what its exponentials bear; true where one
 * was held.
 */
export function controlHolder(equations: Equations): (x: Float64Array) => boolean {
  const proposed = new Float64Array(equations.controls.length);
  const accepted = deviceWindows(equations.network, equations.controls);
  const offered = deviceWindows(equations.network, proposed);
  return (x) => {
    equations.readControls(x, proposed);
    let held = false;
    equations.network.devices.forEach(({ device }, i) => {
      if (device.limit(offered[i]!.at, accepted[i]!.at)) held = true;
    });
    equations.controls.set(proposed);
    return held;
  };
}
