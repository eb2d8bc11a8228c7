import type { Trouble } from './problem.ts';

/** Share of a block's peak from which on a sample lies at its top, and at its shoulder. */
const [top, shoulder] = [0.99, 0.9];
/** Of a sine 9 % lies at the top and 29 % from the shoulder up, less than a third; a flat top makes it more. From here on it is one. */
const flatShare = 0.55;
/** s of a block; of the lowest bass only a crest stands in it, and that is told by full scale alone. */
const blockSeconds = 0.1;
/** Samples that tops must hold to be judged, and a crest's shortest run at full scale. */
const [fewest, run] = [24, 3];

/** Stretches with flat tops: at full scale, or below it where something before the recorder's converter gave way. */
export function clipping(
  samples: Float64Array,
  rate: number,
  bits: number,
  channel: string | null,
): readonly Trouble[] {
  const full = 1 - 2 ** (1.5 - Math.min(bits, 16));
  const size = Math.round(blockSeconds * rate);
  const loud = 0.05 * samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const spans: { from: number; to: number; atFull: boolean }[] = [];
  for (let start = 0; start + size <= samples.length; start += size) {
    const block = samples.subarray(start, start + size);
    const atFull = longestRun(block, full) >= run;
    if (!atFull && !flatTopped(block, loud)) continue;
    const before = spans.at(-1);
    if (before?.to === start)
      spans[spans.length - 1] = { ...before, to: start + size, atFull: atFull || before.atFull };
    else spans.push({ from: start, to: start + size, atFull });
  }
  return spans.map(({ from, to, atFull }) => ({
    code: 'clipping',
    channel,
    fromS: from / rate,
    toS: to / rate,
    message: atFull
      ? 'the recording is at full scale: turn the recorder down, and record again'
      : 'the tops are flat below full scale: board, adapter or the recorder’s input gives way; turn the player down, and record again',
  }));
}

function longestRun(block: Float64Array, full: number): number {
  let [longest, current] = [0, 0];
  for (let n = 0; n < block.length; n++) {
    current = Math.abs(block[n]!) >= full && (current === 0 || block[n]! * block[n - 1]! > 0) ? current + 1 : 0;
    longest = Math.max(longest, current);
  }
  return longest;
}

/** Both halves of the wave are looked at on their own: one may clip alone. */
function flatTopped(block: Float64Array, loud: number): boolean {
  return [1, -1].some((sign) => {
    let peak = 0;
    for (let n = 0; n < block.length; n++) peak = Math.max(peak, sign * block[n]!);
    if (peak < loud) return false;
    let [tops, shoulders, crossings] = [0, 0, 0];
    for (let n = 0; n < block.length; n++) {
      const height = (sign * block[n]!) / peak;
      if (height >= top) tops++;
      if (height >= shoulder) shoulders++;
      if (n > 0 && block[n]! > 0 !== block[n - 1]! > 0) crossings++;
    }
    return tops >= fewest && crossings >= 8 && tops > flatShare * shoulders;
  });
}
