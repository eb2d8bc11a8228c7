/** How far a number reaches over the boards: 5 %, median, 95 %, and the lowest and highest found. */
export interface Reach {
  readonly low: number;
  readonly median: number;
  readonly high: number;
  readonly worstLow: number;
  readonly worstHigh: number;
}

/** NaN throughout where there are no numbers; numbers that are NaN are left out. */
export function reachOf(values: Float32Array): Reach {
  const kept = values.slice();
  let count = 0;
  let [worstLow, worstHigh] = [Infinity, -Infinity];
  for (let n = 0; n < values.length; n++) {
    const value = values[n]!;
    if (Number.isNaN(value)) continue;
    kept[count++] = value;
    worstLow = Math.min(worstLow, value);
    worstHigh = Math.max(worstHigh, value);
  }
  if (count === 0) return { low: NaN, median: NaN, high: NaN, worstLow: NaN, worstHigh: NaN };
  const numbers = kept.subarray(0, count);
  const [low, median, high] = [quantile(numbers, 0.05), quantile(numbers, 0.5), quantile(numbers, 0.95)];
  return { low, median, high, worstLow, worstHigh };
}

/**
 * Straight between the two nearest of the ordered numbers (definition 7 of Hyndman & Fan, American Statistician 50(4), 1996). Changes the
 * order of `numbers`.
 */
function quantile(numbers: Float32Array, share: number): number {
  const place = share * (numbers.length - 1);
  const below = Math.floor(place);
  const low = select(numbers, below);
  if (below === place) return low;
  let high = Infinity;
  for (let n = below + 1; n < numbers.length; n++) high = Math.min(high, numbers[n]!);
  return low + (place - below) * (high - low);
}

/** The number that sorting would put at `place`; those after it are then none smaller (Hoare, CACM 4(7), 1961, algorithm 65). */
function select(numbers: Float32Array, place: number): number {
  let [first, last] = [0, numbers.length - 1];
  while (first < last) {
    const pivot = numbers[place]!;
    let [up, down] = [first, last];
    while (up <= down) {
      while (numbers[up]! < pivot) up++;
      while (numbers[down]! > pivot) down--;
      if (up > down) break;
      const held = numbers[up]!;
      numbers[up++] = numbers[down]!;
      numbers[down--] = held;
    }
    if (down < place) first = up;
    if (up > place) last = down;
  }
  return numbers[place]!;
}

/** Standard deviation, of numbers without NaN. */
export function sigmaOf(values: Float32Array): number {
  let sum = 0;
  for (let n = 0; n < values.length; n++) sum += values[n]!;
  const mean = sum / values.length;
  let squares = 0;
  for (let n = 0; n < values.length; n++) squares += (values[n]! - mean) ** 2;
  return Math.sqrt(squares / Math.max(1, values.length - 1));
}
