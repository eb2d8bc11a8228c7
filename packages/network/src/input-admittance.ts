import type { SmallSignal } from './linearise.ts';
import { frequencySolver } from './response.ts';

/**
 * What a channel's source looks into, S (re, im) at a frequency in Hz: the board alone, with the source's own cable where it has one. NaN
 * where the network is singular.
 */
export function inputAdmittance(small: SmallSignal, channel: number): (hz: number) => readonly [number, number] {
  const solver = frequencySolver(small);
  const x = new Float64Array(2 * small.size);
  const { drive, input } = small.channels[channel]!;
  return (hz) => {
    if (!solver.setFrequency(hz)) return [NaN, NaN];
    x.fill(0);
    x[2 * drive] = 1;
    solver.solve(x);
    const [vr, vi] = [x[2 * input]!, x[2 * input + 1]!];
    // The branch's current flows out of the input node, so the board's flows against it.
    const [ir, ii] = [-x[2 * drive]!, -x[2 * drive + 1]!];
    const norm = vr * vr + vi * vi;
    return [(ir * vr + ii * vi) / norm, (ii * vr - ir * vi) / norm];
  };
}
