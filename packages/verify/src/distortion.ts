import { highestHarmonic, type SteadyState } from '@curvewright/network';

/** THD, and dB of gain lost, that count as overload. */
const overloadThd = 0.01;
const overloadCompression = 1;

/** Least THD over that of overload that a search looks at: an op-amp's is nothing until it clips. */
const leastRatio = 1e-3;

/** Harmonics 2 to 10 over the fundamental at the output, a fraction. */
export function thdOf({ output }: SteadyState): number {
  let sum = 0;
  for (let k = 2; k <= highestHarmonic; k++) sum += amplitude(output, k) ** 2;
  return Math.sqrt(sum) / amplitude(output, 1);
}

/** V rms of the fundamental at the output. */
export function outputVolts({ output }: SteadyState): number {
  return amplitude(output, 1) / Math.SQRT2;
}

/** Above 0 in overload; grows with level. */
export function excess(state: SteadyState): number {
  return Math.max(distortionExcess(state), compressionExcess(state));
}

/** What makes a state one of overload, or comes nearest to it. */
export function overloadedBy(state: SteadyState): 'distortion' | 'compression' {
  return distortionExcess(state) >= compressionExcess(state) ? 'distortion' : 'compression';
}

/**
 * The part that brings most of the distortion or of the gain lost, and its share. What the parts bend adds up to the distortion at the output
 * (and, at the fundamental, to the gain lost); a part's share is what of it lies along the sum.
 */
export function leadingPart(
  state: SteadyState,
  by: 'distortion' | 'compression',
): { readonly ref: string | null; readonly share: number | null } {
  const [from, to] = by === 'distortion' ? [2, highestHarmonic] : [1, 1];
  const whole = state.output.slice();
  whole[2] = (whole[2] ?? 0) - (state.linear[0] ?? 0);
  whole[3] = (whole[3] ?? 0) - (state.linear[1] ?? 0);
  const along = (pairs: Float64Array): number => {
    let sum = 0;
    for (let i = 2 * from; i < 2 * to + 2; i++) sum += (pairs[i] ?? 0) * (whole[i] ?? 0);
    return sum;
  };
  const shares = state.parts.map(({ ref, output }) => ({ ref, share: along(output) / along(whole) }));
  return shares.toSorted((a, b) => b.share - a.share)[0] ?? { ref: null, share: null };
}

function distortionExcess(state: SteadyState): number {
  return Math.log(Math.max(thdOf(state) / overloadThd, leastRatio));
}

function compressionExcess(state: SteadyState): number {
  return Math.log(Math.max(compression(state) / overloadCompression, leastRatio));
}

/** dB of gain lost against the small signal. */
function compression({ output, linear }: SteadyState): number {
  return -20 * Math.log10(amplitude(output, 1) / amplitude(linear, 0));
}

function amplitude(pairs: Float64Array, k: number): number {
  return Math.hypot(pairs[2 * k] ?? 0, pairs[2 * k + 1] ?? 0);
}
