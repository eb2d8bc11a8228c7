import { reach } from '@curvewright/devices';
import { common, type Unknown } from './elements.ts';
import { deviceWindows } from './device-windows.ts';
import { addFour, denseEntries, fourPlaces, recordEntries, type EntryIndex, type EntryRecord } from './entry-index.ts';
import type { Network } from './network.ts';

/** What a fallback of the bias search changes in the equations; the plain circuit has rails 1 and shunt 0. */
export interface Relief {
  /** The rails stand at this fraction of their volts. */
  readonly rails: number;
  /** S from every node to the voltage `anchor` holds for it. */
  readonly shunt: number;
  /** V for every unknown; null: gnd. */
  readonly anchor: Float64Array | null;
}

export const noRelief: Relief = { rails: 1, shunt: 0, anchor: null };

/** The static equations of a network and their Jacobian at a point, in storage made once. */
export interface Equations {
  readonly network: Network;
  /** Entries as the index given at creation places them; row-major size × size where none was given. */
  readonly jacobian: Float64Array;
  /** A that leave each node, V missing in each branch row. */
  readonly residual: Float64Array;
  /** Σ|G·V| of every row: what rounding alone may leave is a few eps of it. */
  readonly flow: Float64Array;
  /** Largest single current (A) that meets at each node. */
  readonly largestCurrent: Float64Array;
  /** Control voltages the devices are linearised at, all devices in order. */
  readonly controls: Float64Array;
  /** V of every branch; a run in time writes them anew at each instant. */
  readonly branchVolts: Float64Array;
  /** Fills everything above at x with the devices linearised at `controls`. */
  assemble(x: Float64Array, relief: Relief): void;
  /** Writes the control voltages that x gives into `target`. */
  readControls(x: Float64Array, target: Float64Array): void;
}

export function createEquations(network: Network, index: EntryIndex = denseEntries(network.size)): Equations {
  const { size } = network;
  const jacobian = new Float64Array(index.length);
  const places = placesOf(network, index);
  const residual = new Float64Array(size);
  const flow = new Float64Array(size);
  const largestCurrent = new Float64Array(size);
  const controlCount = network.devices.reduce((sum, { device }) => sum + device.controls.length, 0);
  const controls = new Float64Array(controlCount);
  const branchVolts = Float64Array.from(network.branches, ({ volts }) => volts);
  const windows = deviceWindows(network, controls);
  const limited = new Float64Array(4);

  const voltage = (x: Float64Array, u: Unknown): number => (u === common ? 0 : x[u]!);

  function addEntry(place: number, value: number): void {
    if (place >= 0) jacobian[place] = jacobian[place]! + value;
  }

  function addCurrent(row: Unknown, amps: number, moved: number): void {
    if (row === common) return;
    residual[row] = residual[row]! + amps;
    flow[row] = flow[row]! + moved;
    largestCurrent[row] = Math.max(largestCurrent[row]!, Math.abs(amps));
  }

  function addConductance(index: number, x: Float64Array): void {
    const { a, b, siemens } = network.conductances[index]!;
    const va = voltage(x, a);
    const vb = voltage(x, b);
    const moved = siemens * (Math.abs(va) + Math.abs(vb));
    addCurrent(a, siemens * (va - vb), moved);
    addCurrent(b, siemens * (vb - va), moved);
    addFour(jacobian, places.conductances[index]!, siemens);
  }

  function addBranch(index: number, x: Float64Array, relief: Relief): void {
    const { a, b, current, ohms, rail } = network.branches[index]!;
    const volts = branchVolts[index]!;
    const amps = x[current]!;
    addCurrent(a, amps, 0);
    addCurrent(b, -amps, 0);
    const [inA, inB, fromA, fromB, own] = places.branches[index]!;
    addEntry(inA!, 1);
    addEntry(inB!, -1);
    const wanted = rail ? volts * relief.rails : volts;
    const va = voltage(x, a);
    const vb = voltage(x, b);
    residual[current] = va - vb - ohms * amps - wanted;
    flow[current] = Math.abs(va) + Math.abs(vb) + Math.abs(ohms * amps) + Math.abs(wanted);
    addEntry(fromA!, 1);
    addEntry(fromB!, -1);
    addEntry(own!, -ohms);
  }

  function addDevice(index: number, x: Float64Array): void {
    const { device, leads } = network.devices[index]!;
    const { at, currents, slopes } = windows[index]!;
    const own = places.devices[index]!;
    device.evaluate(at, currents, slopes);
    const width = device.controls.length;
    for (let lead = 0; lead < leads.length; lead++) {
      const row = leads[lead]!;
      let amps = currents[lead]!;
      let moved = 0;
      for (let k = 0; k < width; k++) {
        const control = device.controls[k]!;
        const slope = slopes[lead * width + k]!;
        const vp = voltage(x, leads[control[0]]!);
        const vm = voltage(x, leads[control[1]]!);
        amps += slope * (vp - vm - at[k]!);
        moved += Math.abs(slope) * (Math.abs(vp) + Math.abs(vm));
        addEntry(own[2 * (lead * width + k)]!, slope);
        addEntry(own[2 * (lead * width + k) + 1]!, -slope);
      }
      addCurrent(row, amps, moved);
    }
  }

  function addAmplifier(index: number, x: Float64Array): void {
    const { model, plus, minus, out, rails, drive, current } = network.amplifiers[index]!;
    const own = places.amplifiers[index]!;
    const z = x[drive]!;
    const amps = x[current]!;
    addCurrent(out, amps, 0);
    addEntry(own.flowing, 1);
    limited[0] = z;
    limited[1] = 1;
    limited[2] = 0;
    limited[3] = 0;
    if (rails) reach(model, z, voltage(x, rails[1]), voltage(x, rails[0]), limited);
    const [reached, dz, dNegative, dPositive] = [limited[0], limited[1], limited[2], limited[3]];
    const [vp, vm, vo] = [voltage(x, plus), voltage(x, minus), voltage(x, out)];
    residual[drive] = vp - vm - z * model.inverseGain - (z - reached);
    flow[drive] = Math.abs(vp) + Math.abs(vm) + Math.abs(z) + Math.abs(reached);
    addEntry(own.byPlus, 1);
    addEntry(own.byMinus, -1);
    addEntry(own.striving, -model.inverseGain - (1 - dz));
    residual[current] = vo - reached - model.Rout * amps;
    flow[current] = Math.abs(vo) + Math.abs(reached) + Math.abs(model.Rout * amps);
    addEntry(own.fromOut, 1);
    addEntry(own.reaching, -dz);
    addEntry(own.through, -model.Rout);
    addEntry(own.strivingNegative, dNegative);
    addEntry(own.strivingPositive, dPositive);
    addEntry(own.reachingNegative, -dNegative);
    addEntry(own.reachingPositive, -dPositive);
  }

  function assemble(x: Float64Array, relief: Relief): void {
    jacobian.fill(0);
    residual.fill(0);
    flow.fill(0);
    largestCurrent.fill(0);
    for (let i = 0; i < network.conductances.length; i++) addConductance(i, x);
    for (let i = 0; i < network.branches.length; i++) addBranch(i, x, relief);
    for (let i = 0; i < network.devices.length; i++) addDevice(i, x);
    for (let i = 0; i < network.amplifiers.length; i++) addAmplifier(i, x);
    if (relief.shunt > 0) {
      for (let u = 0; u < size; u++) {
        const kind = network.names[u]!.kind;
        if (kind !== 'node' && kind !== 'inner node') continue;
        addCurrent(u, relief.shunt * (x[u]! - (relief.anchor?.[u] ?? 0)), relief.shunt * Math.abs(x[u]!));
        addEntry(index.at(u, u), relief.shunt);
      }
    }
  }

  function readControls(x: Float64Array, target: Float64Array): void {
    let k = 0;
    for (const { device, leads } of network.devices) {
      for (const [plus, minus] of device.controls) target[k++] = voltage(x, leads[plus]!) - voltage(x, leads[minus]!);
    }
  }

  return { network, jacobian, residual, flow, largestCurrent, controls, branchVolts, assemble, readControls };
}

/** The places of the Jacobian that the network's elements can touch; a bias search without relief touches no other. */
export function recordEquations(network: Network): EntryRecord {
  const record = recordEntries(network.size);
  placesOf(network, record);
  return record;
}

/** Where each element's entries lie, in the order in which the equations add them. */
function placesOf(network: Network, index: EntryIndex) {
  const { at } = index;
  return {
    conductances: network.conductances.map(({ a, b }) => fourPlaces(index, [a, b], [a, b])),
    branches: network.branches.map(({ a, b, current }) =>
      Int32Array.of(at(a, current), at(b, current), at(current, a), at(current, b), at(current, current)),
    ),
    devices: network.devices.map(({ device, leads }) =>
      Int32Array.from(
        leads.flatMap((row) => device.controls.flatMap(([p, m]) => [at(row, leads[p]!), at(row, leads[m]!)])),
      ),
    ),
    amplifiers: network.amplifiers.map(({ plus, minus, out, rails, drive, current }) => {
      const [positive, negative] = rails ?? [common, common];
      return {
        flowing: at(out, current),
        byPlus: at(drive, plus),
        byMinus: at(drive, minus),
        striving: at(drive, drive),
        fromOut: at(current, out),
        reaching: at(current, drive),
        through: at(current, current),
        strivingPositive: at(drive, positive),
        strivingNegative: at(drive, negative),
        reachingPositive: at(current, positive),
        reachingNegative: at(current, negative),
      };
    }),
  };
}
