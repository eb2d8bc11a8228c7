import type { Network } from './network.ts';

/** One device's share of the storage that a search works in. */
export interface DeviceWindow {
  /** This device's part of all control voltages. */
  readonly at: Float64Array;
  readonly currents: Float64Array;
  readonly slopes: Float64Array;
}

/** For each device of the network its window into `controls`, and room for its currents and slopes. */
export function deviceWindows(network: Network, controls: Float64Array): readonly DeviceWindow[] {
  let offset = 0;
  return network.devices.map(({ device }) => {
    const width = device.controls.length;
    const at = controls.subarray(offset, offset + width);
    offset += width;
    return {
      at,
      currents: new Float64Array(device.leads.length),
      slopes: new Float64Array(device.leads.length * width),
    };
  });
}
