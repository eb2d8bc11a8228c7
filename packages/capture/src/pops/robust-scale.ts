/** Median of |x| over the standard deviation, for normally distributed x: 1/Φ⁻¹(0.75). */
const perMedian = 1.4826022185056018;

/**
 * Standard deviation of what is mostly normal noise about 0, by the median of the magnitudes: half of the values may be anything. Work arrays are kept.
 */
export function robustScale(longest: number): (values: Float64Array) => number {
  const magnitudes = new Float64Array(longest);
  return (values) => {
    const { length } = values;
    if (length === 0) return 0;
    for (let n = 0; n < length; n++) magnitudes[n] = Math.abs(values[n]!);
    return perMedian * nthSmallest(magnitudes, length, length >> 1);
  };
}

/** The value that stands at `rank` once the first `length` are sorted (C. A. R. Hoare, "Algorithm 65: find", 1961). Reorders them. */
export function nthSmallest(values: Float64Array, length: number, rank: number): number {
  let [low, high] = [0, length - 1];
  while (low < high) {
    const pivot = values[rank]!;
    let [left, right] = [low, high];
    while (left <= right) {
      while (values[left]! < pivot) left++;
      while (pivot < values[right]!) right--;
      if (left > right) break;
      const swapped = values[left]!;
      values[left++] = values[right]!;
      values[right--] = swapped;
    }
    if (right < rank) low = left;
    if (left > rank) high = right;
  }
  return values[rank]!;
}
