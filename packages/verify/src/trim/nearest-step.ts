/** Rounds of weights: after these the largest residual falls by less than a hundredth of itself. */
const rounds = 15;

/**
 * The step x for which the largest of |residuals + Σ slopes · x| is least, of those that Lawson's weights come by (C. L. Lawson, Contributions to
 * the Theory of Linear Least Maximum Approximation, 1961): least squares in which what is left over weighs more each round. `share` of the mean
 * curvature holds away + x to 0.
 */
export function nearestStep(
  residuals: Float64Array,
  slopes: readonly Float64Array[],
  share: number,
  away: readonly number[] = slopes.map(() => 0),
): readonly number[] {
  let weights: Float64Array = new Float64Array(residuals.length).fill(1);
  let [best, least]: [readonly number[], number] = [slopes.map(() => 0), Infinity];
  for (let round = 0; round < rounds; round++) {
    const step = leastSquares(residuals, slopes, weights, share, away);
    const left = residuals.map((value, n) =>
      Math.abs(slopes.reduce((sum, slope, k) => sum + slope[n]! * step[k]!, value)),
    );
    const most = Math.max(...left);
    if (most < least) [best, least] = [step, most];
    const mean = left.reduce((sum, value, n) => sum + weights[n]! * value, 0) / left.length;
    if (!(mean > 0)) break;
    weights = weights.map((weight, n) => (weight * left[n]!) / mean);
  }
  return best;
}

/** Normal equations by Cholesky's factors (Golub & Van Loan, Matrix Computations, 4.2). */
function leastSquares(
  residuals: Float64Array,
  slopes: readonly Float64Array[],
  weights: Float64Array,
  share: number,
  away: readonly number[],
): readonly number[] {
  const size = slopes.length;
  const product = (a: Float64Array, b: Float64Array): number =>
    a.reduce((sum, value, n) => sum + weights[n]! * value * b[n]!, 0);
  const trace = slopes.reduce((sum, slope) => sum + product(slope, slope), 0);
  if (!(trace > 0)) return slopes.map(() => 0);
  const pull = (share * trace) / size;
  const factors: number[][] = [];
  for (let i = 0; i < size; i++) {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      let sum = product(slopes[i]!, slopes[j]!) + (i === j ? pull : 0);
      for (let k = 0; k < j; k++) sum -= row[k]! * (j === i ? row : factors[j]!)[k]!;
      row.push(i === j ? Math.sqrt(sum) : sum / factors[j]![j]!);
    }
    factors.push(row);
  }
  const x = slopes.map((slope, k) => -product(slope, residuals) - pull * away[k]!);
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < i; k++) x[i] = x[i]! - factors[i]![k]! * x[k]!;
    x[i] = x[i]! / factors[i]![i]!;
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let k = i + 1; k < size; k++) x[i] = x[i]! - factors[k]![i]! * x[k]!;
    x[i] = x[i]! / factors[i]![i]!;
  }
  return x;
}
