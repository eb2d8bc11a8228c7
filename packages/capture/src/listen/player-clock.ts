/** Half the length of the interpolation kernel, in samples of the slower clock. */
const reach = 32;
/** Kaiser's β: images stay 80 dB down beyond 1.08 of half the slower rate (Kaiser & Schafer, IEEE Trans. ASSP-28, 1980). */
const beta = 8;
/** Kernel values to the sample; linear between them is 5e-6 off. */
const finesse = 512;

/**
 * A recording read at another clock: out[n] is the recording at its own sample `from + n·step`, n = 0 … length − 1, by a
 * Kaiser-windowed sinc; zero outside. The time domain, not the spectra, is brought to the player's clock: levels, noise and tones are then read
 * on one clock too, and the cost is that of the transform that a spectrum at scaled frequencies would need.
 */
export function onPlayerClock(
  recording: Float64Array,
  { from, step, length }: { readonly from: number; readonly step: number; readonly length: number },
): Float64Array {
  const cutoff = Math.min(1, 1 / step);
  const half = reach / cutoff;
  const kernel = kernelOf(cutoff, half);
  const out = new Float64Array(length);
  for (let n = 0; n < length; n++) {
    const at = from + n * step;
    const first = Math.max(0, Math.ceil(at - half));
    const last = Math.min(recording.length - 1, Math.floor(at + half));
    // On either side the places in the table lie one sample apart, so that all have the same share between two values.
    const middle = Math.min(last, Math.max(first - 1, Math.floor(at)));
    out[n] =
      side(recording, first, middle, 1, (at - first) * finesse, kernel) +
      side(recording, last, middle + 1, -1, (last - at) * finesse, kernel);
  }
  return out;
}

/** Σ recording · kernel from one sample towards the middle; `place` is the first one's in the table, and each further one stands a sample nearer. */
function side(
  recording: Float64Array,
  from: number,
  to: number,
  towards: 1 | -1,
  place: number,
  kernel: Float64Array,
): number {
  let k = Math.trunc(place);
  const share = place - k;
  let [here, next] = [0, 0];
  for (let m = from; towards * (to - m) >= 0; m += towards) {
    here += recording[m]! * kernel[k]!;
    next += recording[m]! * kernel[k + 1]!;
    k -= finesse;
  }
  return here + share * (next - here);
}

/** cutoff·sinc(cutoff·t)·window at t = k/finesse samples, k ≥ 0. */
function kernelOf(cutoff: number, half: number): Float64Array {
  return Float64Array.from({ length: Math.ceil(half * finesse) + 2 }, (_, k) => {
    const t = k / finesse;
    const inside = 1 - (t / half) ** 2;
    if (inside <= 0) return 0;
    const x = Math.PI * cutoff * t;
    return (cutoff * (x === 0 ? 1 : Math.sin(x) / x) * besselI0(beta * Math.sqrt(inside))) / besselI0(beta);
  });
}

function besselI0(x: number): number {
  let [sum, term] = [1, 1];
  for (let k = 1; term > 1e-17 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}
