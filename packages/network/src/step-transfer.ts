import { realLu } from '@curvewright/solver';
import type { Departure } from './departures.ts';
import { common, type Unknown } from './elements.ts';
import type { SmallSignal } from './linearise.ts';

/**
 * What the ports' departures do to the controls within one step of time, every capacitor and inductor by the backward Euler rule (its
 * susceptance at the real frequency 1/seconds): controls × ports, row-major, real; zero where the network is singular there.
 */
export function stepTransfer(
  { size, conductance, capacitance, loss }: SmallSignal,
  departures: readonly Departure[],
  seconds: number,
): Float64Array {
  const controls = departures.flatMap((departure) => departure.controls);
  const ports = departures.flatMap((departure) => departure.ports);
  const transfer = new Float64Array(controls.length * ports.length);
  const lu = realLu(size);
  for (let k = 0; k < lu.matrix.length; k++) lu.matrix[k] = conductance[k]! + (capacitance[k]! + loss[k]!) / seconds;
  if (lu.factor() >= 0) return transfer;
  const x = new Float64Array(size);
  const volts = (u: Unknown): number => (u === common ? 0 : x[u]!);
  ports.forEach(([from, to], p) => {
    x.fill(0);
    // A departure is part of what leaves the nodes: on the other side of the equations it changes its sign.
    if (from !== common) x[from] = -1;
    if (to !== common) x[to] = 1;
    lu.solve(x);
    controls.forEach(([plus, minus], c) => {
      transfer[c * ports.length + p] = volts(plus) - volts(minus);
    });
  });
  return transfer;
}
