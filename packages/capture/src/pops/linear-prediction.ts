/**
 * Fits an autoregressive model by Burg's method (J. P. Burg, "Maximum entropy spectral analysis", 1975; from memory), which keeps the predictor
 * stable and needs no window, so that steady lines such as hum are predicted away. Samples of weight 0 take no part in the sums. Answers with
 * a₀ = 1 to a_order, of which the error Σ a_k·y[n − k] is made; the array and the work arrays are kept.
 */
export function burgFit(
  order: number,
  longest: number,
): (samples: Float64Array, weights: Float64Array) => Float64Array {
  const forward = new Float64Array(longest);
  const backward = new Float64Array(longest);
  const coefficients = new Float64Array(order + 1);
  const before = new Float64Array(order + 1);
  return (samples, weights) => {
    const { length } = samples;
    forward.set(samples);
    backward.set(samples);
    coefficients.fill(0);
    coefficients[0] = 1;
    let [product, power] = [0, 0];
    for (let n = 1; n < length; n++) {
      const [f, b, w] = [samples[n]!, samples[n - 1]!, weights[n]!];
      product += w * f * b;
      power += w * (f * f + b * b);
    }
    for (let stage = 1; stage <= order && power > 0; stage++) {
      const reflection = (-2 * product) / power;
      before.set(coefficients);
      for (let k = 1; k <= stage; k++) coefficients[k] = before[k]! + reflection * before[stage - k]!;
      product = 0;
      power = 0;
      // Backwards, so that backward[n − 1] is still the one of the stage before; the next stage's sums come on the way.
      let above = 0;
      let weightAbove = 0;
      for (let n = length - 1; n >= stage; n--) {
        const f = forward[n]!;
        const b = backward[n - 1]!;
        const ahead = f + reflection * b;
        const behind = b + reflection * f;
        product += weightAbove * above * behind;
        power += weightAbove * (above * above + behind * behind);
        forward[n] = ahead;
        backward[n] = behind;
        above = ahead;
        weightAbove = weights[n]!;
      }
    }
    return coefficients;
  };
}

/** What a predictor does not foresee of samples; 0 for the first ones, which have no full row before them. */
export function predictionError(coefficients: Float64Array, samples: Float64Array, error: Float64Array): void {
  const order = coefficients.length - 1;
  const { length } = samples;
  error.fill(0, 0, Math.min(order, length));
  let n = order;
  const single = (): void => {
    let sum = 0;
    for (let k = 0; k <= order; k++) sum += coefficients[k]! * samples[n - k]!;
    error[n++] = sum;
  };
  // One alone first, so that four have a sample before their row.
  if (n < length) single();
  // Four at a time: they share all samples but one.
  while (n + 3 < length) {
    let [sample0, sample1, sample2, sample3] = [samples[n]!, samples[n + 1]!, samples[n + 2]!, samples[n + 3]!];
    let [sum0, sum1, sum2, sum3] = [0, 0, 0, 0];
    for (let k = 0; k <= order; k++) {
      const coefficient = coefficients[k]!;
      sum0 += coefficient * sample0;
      sum1 += coefficient * sample1;
      sum2 += coefficient * sample2;
      sum3 += coefficient * sample3;
      sample3 = sample2;
      sample2 = sample1;
      sample1 = sample0;
      sample0 = samples[n - k - 1]!;
    }
    error[n++] = sum0;
    error[n++] = sum1;
    error[n++] = sum2;
    error[n++] = sum3;
  }
  while (n < length) single();
}
