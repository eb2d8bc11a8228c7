import { common, type Unknown } from './elements.ts';
import { deviceWindows } from './device-windows.ts';
import type { Equations } from './equations.ts';

/** What a step in time may leave wrong: a charge or flux by `relative` of itself plus that of `volts` or `amps` in its capacitance or inductance. */
export interface TimeTolerance {
  readonly relative: number;
  /** V. */
  readonly volts: number;
  /** A. */
  readonly amps: number;
}

/**
 * What moves with time in a network's equations, residual(x) + dQ(x)/dt = 0: Q holds the charge that stands at each node (C), −H·i in an
 * inductor's row and −z/(2π·GBW) in an op-amp's (V·s). All storage is made once.
 */
export interface Motion {
  /** Q of every row, as last read. */
  readonly charge: Float64Array;
  /** Fills `charge` at x, devices at the equations' controls. */
  read(x: Float64Array): void;
  /** Adds rate·Q(x) − history to the residual and rate·dQ/dx to the Jacobian, the devices linearised at the equations' controls. */
  add(x: Float64Array, rate: number, history: Float64Array): void;
  /** How far the error `dx` of x lies over what `tolerance` allows in any one capacitor, inductor, device or op-amp; 1: just allowed. */
  worstError(x: Float64Array, dx: Float64Array, tolerance: TimeTolerance): number;
}

export function createMotion(equations: Equations): Motion {
  const { network, jacobian, residual, controls } = equations;
  const { size } = network;
  const charge = new Float64Array(size);
  const windows = deviceWindows(network, controls);
  const inductors = network.branches.filter(({ henries }) => henries > 0);
  const rolling = network.amplifiers.filter(({ model }) => model.inverseGbw > 0);
  const changes = new Float64Array(Math.max(0, ...network.devices.map(({ device }) => device.controls.length)));

  const voltage = (x: Float64Array, u: Unknown): number => (u === common ? 0 : x[u]!);

  function addCharge(row: Unknown, coulombs: number): void {
    if (row !== common) charge[row] = charge[row]! + coulombs;
  }

  function addEntry(row: Unknown, column: Unknown, value: number): void {
    if (row !== common && column !== common) jacobian[row * size + column] = jacobian[row * size + column]! + value;
  }

  /** Q of all that is linear; devices are added by the callers. */
  function readLinear(x: Float64Array): void {
    charge.fill(0);
    for (const { a, b, farads } of network.capacitances) {
      const coulombs = farads * (voltage(x, a) - voltage(x, b));
      addCharge(a, coulombs);
      addCharge(b, -coulombs);
    }
    for (const { current, henries } of inductors) charge[current] = -henries * x[current]!;
    for (const { drive, model } of rolling) charge[drive] = -model.inverseGbw * x[drive]!;
  }

  function read(x: Float64Array): void {
    readLinear(x);
    for (let i = 0; i < windows.length; i++) {
      const { device, leads } = network.devices[i]!;
      const { at, currents: charges, slopes } = windows[i]!;
      device.store(at, charges, slopes);
      for (let lead = 0; lead < leads.length; lead++) addCharge(leads[lead]!, charges[lead]!);
    }
  }

  function add(x: Float64Array, rate: number, history: Float64Array): void {
    readLinear(x);
    for (const { a, b, farads } of network.capacitances) {
      const siemens = rate * farads;
      addEntry(a, a, siemens);
      addEntry(b, b, siemens);
      addEntry(a, b, -siemens);
      addEntry(b, a, -siemens);
    }
    for (const { current, henries } of inductors) addEntry(current, current, -rate * henries);
    for (const { drive, model } of rolling) addEntry(drive, drive, -rate * model.inverseGbw);
    for (let i = 0; i < windows.length; i++) addDevice(i, x, rate);
    for (let row = 0; row < size; row++) residual[row] = residual[row]! + rate * charge[row]! - history[row]!;
  }

  function addDevice(index: number, x: Float64Array, rate: number): void {
    const { device, leads } = network.devices[index]!;
    const { at, currents: charges, slopes } = windows[index]!;
    device.store(at, charges, slopes);
    const width = device.controls.length;
    for (let lead = 0; lead < leads.length; lead++) {
      const row = leads[lead]!;
      let coulombs = charges[lead]!;
      for (let k = 0; k < width; k++) {
        const [p, m] = device.controls[k]!;
        const slope = slopes[lead * width + k]!;
        if (slope === 0) continue;
        const [plus, minus] = [leads[p]!, leads[m]!];
        coulombs += slope * (voltage(x, plus) - voltage(x, minus) - at[k]!);
        addEntry(row, plus, rate * slope);
        addEntry(row, minus, -rate * slope);
      }
      addCharge(row, coulombs);
    }
  }

  function worstError(x: Float64Array, dx: Float64Array, { relative, volts, amps }: TimeTolerance): number {
    let worst = 0;
    for (const { a, b } of network.capacitances) {
      const allowed = relative * Math.abs(voltage(x, a) - voltage(x, b)) + volts;
      worst = Math.max(worst, Math.abs(voltage(dx, a) - voltage(dx, b)) / allowed);
    }
    for (const { current } of inductors) {
      worst = Math.max(worst, Math.abs(dx[current]!) / (relative * Math.abs(x[current]!) + amps));
    }
    for (const { drive } of rolling) {
      worst = Math.max(worst, Math.abs(dx[drive]!) / (relative * Math.abs(x[drive]!) + volts));
    }
    for (let i = 0; i < windows.length; i++) worst = Math.max(worst, deviceError(i, dx, relative, volts));
    return worst;
  }

  function deviceError(index: number, dx: Float64Array, relative: number, volts: number): number {
    const { device, leads } = network.devices[index]!;
    const { at, currents: charges, slopes } = windows[index]!;
    device.store(at, charges, slopes);
    const width = device.controls.length;
    for (let k = 0; k < width; k++) {
      const [p, m] = device.controls[k]!;
      changes[k] = voltage(dx, leads[p]!) - voltage(dx, leads[m]!);
    }
    let worst = 0;
    for (let lead = 0; lead < leads.length; lead++) {
      let wrong = 0;
      let farads = 0;
      for (let k = 0; k < width; k++) {
        const slope = slopes[lead * width + k]!;
        wrong += slope * changes[k]!;
        farads += Math.abs(slope);
      }
      if (farads > 0) worst = Math.max(worst, Math.abs(wrong) / (relative * Math.abs(charges[lead]!) + volts * farads));
    }
    return worst;
  }

  return { charge, read, add, worstError };
}
