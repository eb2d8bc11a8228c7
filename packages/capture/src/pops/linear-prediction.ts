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
  error.fill(0, 0, Math.min(order, samples.length));
  for (let n = order; n < samples.length; n++) {
    let [even, odd] = [0, 0];
    let k = 0;
    // Two sums, so that one need not wait for the other.
    for (; k < order; k += 2) {
      even += coefficients[k]! * samples[n - k]!;
      odd += coefficients[k + 1]! * samples[n - k - 1]!;
    }
    if (k === order) even += coefficients[k]! * samples[n - k]!;
    error[n] = even + odd;
  }
}
