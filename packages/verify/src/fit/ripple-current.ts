import type { Capacitor } from '@curvewright/board';
import { frequencySolver } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import type { FitContext, FitRow } from './fit-row.ts';
import { ratingRow } from './rating-row.ts';

/** Current that the rails' stated ripple drives through a capacitor with a stated ripple current; a fitted part need not state one. */
export function rippleCurrent(part: Capacitor, { stage, ratings }: FitContext): readonly FitRow[] {
  if (part.rippleCurrent === undefined) return [];
  const amps = rippleAmps(part, stage);
  const times = ratings.ripple_current === 1 ? '' : `${ratings.ripple_current} × the `;
  return ratingRow(part, {
    where: 'ripple current',
    unit: 'A',
    needed: ratings.ripple_current * amps,
    rated: part.rippleCurrent,
    asked: false,
    because: `${times}${printQuantity(amps, 'A')} rms that the ripple of the rails drives through it`,
    write: '',
    next: `choose one for a ripple current above ${printQuantity(ratings.ripple_current * amps, 'A')} at ${part.position}`,
  });
}

/** A rms of every rail's fundamental and harmonics together, as if of independent phase. */
function rippleAmps(part: Capacitor, { network, small, circuit }: FitContext['stage']): number {
  const solver = frequencySolver(small);
  const x = new Float64Array(2 * small.size);
  const at = (node: string): number => network.nodes.get(node) ?? -1;
  const [plus, minus] = [at(part.plus), at(part.minus)];
  const read = (unknown: number, half: 0 | 1): number => (unknown < 0 ? 0 : x[2 * unknown + half]!);
  let squares = 0;
  for (const { node, ripple, rippleFrequency, harmonics = [] } of circuit.rails) {
    if (ripple === undefined || rippleFrequency === undefined) continue;
    const row = network.branches.find(({ rail, ref }) => rail && ref === node)!.current;
    for (const [n, share] of [1, ...harmonics].entries()) {
      const hz = rippleFrequency * (n + 1);
      if (share === 0 || !solver.setFrequency(hz)) continue;
      x.fill(0);
      x[2 * row] = ripple * share;
      solver.solve(x);
      const volts = Math.hypot(read(plus, 0) - read(minus, 0), read(plus, 1) - read(minus, 1));
      squares += (volts / impedance(part, hz)) ** 2;
    }
  }
  return Math.sqrt(squares);
}

/** |ESR + 1/(ωC(j + tan δ))|, Ω. */
function impedance({ farads, esr = 0, loss = 0 }: Capacitor, hz: number): number {
  const reactance = 1 / (2 * Math.PI * hz * farads);
  const norm = 1 + loss ** 2;
  return Math.hypot(esr + (reactance * loss) / norm, reactance / norm);
}
