/** Samples of a block whose own size of second differences a jump is held against. */
const block = 1024;
/** How far a jump stands out; the steepest music-like sweep reaches 3, noise 5. */
const standsOut = 8;

/** The sample from one to another at which the waveform breaks off: its second difference stands furthest out of its surroundings'. Null where none does. */
export function jumpBetween(samples: Float64Array, from: number, to: number): number | null {
  let best: { at: number; ratio: number } | null = null;
  for (let start = Math.max(1, Math.floor(from)); start < Math.min(to, samples.length - block - 1); start += block) {
    let [sum, most, at] = [0, 0, start];
    for (let n = start; n < start + block; n++) {
      const bend = Math.abs(samples[n - 1]! - 2 * samples[n]! + samples[n + 1]!);
      sum += bend * bend;
      if (bend > most) [most, at] = [bend, n];
    }
    // The jump itself is left out of what it is held against: two neighbours share it.
    const ratio = most / Math.sqrt(Math.max(0, sum - 2 * most * most) / block + 1e-18);
    if (ratio > standsOut && ratio > (best?.ratio ?? 0)) best = { at, ratio };
  }
  return best === null ? null : best.at;
}
