/** Parts of a slope, and of the function over the width of the first step, in which two estimates may differ to count as agreed. */
const agreement = 1e-9;

/** Halvings of the first step before the best estimate so far is taken. */
const halvings = 16;

/**
 * Slopes at 0 of a function of one number with many results, by central differences extrapolated twice (Richardson) while the step is
 * halved: the error falls with the sixth power of the step, and the estimate whose two last members lie nearest is taken (Ridders, Adv.
 * Eng. Software 4, 1982). Smooth functions come out to about 1e-11 of their slope; beside a kink the step shrinks until it keeps to one side.
 * `write` fills its `results` for a given number; `first` is the first step, in that number's unit.
 */
export function slopesAtZero(
  write: (at: number, results: Float64Array) => void,
  length: number,
  first: number,
): Float64Array {
  const best = new Float64Array(length);
  const error = new Float64Array(length).fill(Infinity);
  const above = new Float64Array(length);
  const below = new Float64Array(length);
  write(0, above);
  const measure = above.map((value) => Math.abs(value) / first);
  const central = (step: number): Float64Array => {
    write(step, above);
    write(-step, below);
    return above.map((value, i) => (value - below[i]!) / (2 * step));
  };
  let step = first / 4;
  let history = [central(first), central(first / 2), central(step)] as const;
  for (let n = 0; n <= halvings; n++) {
    const [wide, middle, narrow] = history;
    let agreed = true;
    for (let i = 0; i < length; i++) {
      const coarse = (4 * middle[i]! - wide[i]!) / 3;
      const fine = (4 * narrow[i]! - middle[i]!) / 3;
      const difference = Math.abs(fine - coarse);
      if (difference < error[i]!) {
        error[i] = difference;
        best[i] = (16 * fine - coarse) / 15;
      }
      if (error[i]! > agreement * (Math.abs(best[i]!) + 1e-3 * measure[i]!)) agreed = false;
    }
    if (agreed) break;
    step /= 2;
    history = [middle, narrow, central(step)];
  }
  return best;
}
