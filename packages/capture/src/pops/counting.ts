/** Bounds of a rate, or of a ratio of rates, each kept with the confidence stated where they are made. */
export interface Bounds {
  readonly low: number;
  /** Infinity where nothing bounds it. */
  readonly high: number;
}

/** Share of cases in which a bound holds; of each bound by itself, as the one that is asked about is the upper or the lower one. */
const confidence = 0.95;

/**
 * Exact bounds of the expected number of independent events of which `count` came (half the 5 % and 95 % points of chi-square with 2·count and
 * 2·count + 2 degrees of freedom; F. Garwood, 1936; from memory). None came: from 0 to −ln 0.05 = 3.0.
 */
export function countBounds(count: number): Bounds {
  const risk = 1 - confidence;
  const most = count + 10 * Math.sqrt(count + 1) + 10;
  return {
    low: count === 0 ? 0 : root(0, count, (mean) => atLeast(count, mean) - risk),
    high: root(count, most, (mean) => risk - atMost(count, mean)),
  };
}

/** P(N ≤ count) of a mean above it. */
function atMost(count: number, mean: number): number {
  let [term, sum] = [1, 0];
  for (let k = count; k >= 0 && term > sum * Number.EPSILON; k--) {
    sum += term;
    term *= k / mean;
  }
  return sum * Math.exp(logPoisson(count, mean));
}

/** P(N ≥ count) of a mean below it. */
function atLeast(count: number, mean: number): number {
  if (mean === 0) return 0;
  let [term, sum] = [1, 0];
  for (let k = count; term > sum * Number.EPSILON; k++) {
    sum += term;
    term *= mean / (k + 1);
  }
  return sum * Math.exp(logPoisson(count, mean));
}

function logPoisson(count: number, mean: number): number {
  return count * Math.log(mean) - mean - logFactorial(count);
}

/** Two counts over their times. */
export interface RateChange {
  /** Rate after over rate before; null where none came before. */
  readonly ratio: number | null;
  readonly bounds: Bounds;
  /** Probability of a change as unlikely as this one, or more so, where the rate stayed the same. */
  readonly chance: number;
}

/**
 * Exact comparison of two rates: of all events, those after are binomial with the share of the time where nothing changed (J. Przyborowski,
 * H. Wilenski, "Homogeneity of results in testing samples from Poisson series", 1940), and the ratio has the bounds of that share
 * (C. J. Clopper, E. S. Pearson, 1934).
 */
export function rateChange(
  before: { readonly count: number; readonly minutes: number },
  after: { readonly count: number; readonly minutes: number },
): RateChange {
  const all = before.count + after.count;
  const share = after.minutes / (before.minutes + after.minutes);
  const ratioOf = (part: number): number => (part * before.minutes) / ((1 - part) * after.minutes);
  const risk = 1 - confidence;
  const low = after.count === 0 ? 0 : root(0, after.count / all, (p) => upperTail(after.count, all, p) - risk);
  // The events before, seen from their side.
  const high = before.count === 0 ? 1 : 1 - root(0, before.count / all, (p) => upperTail(before.count, all, p) - risk);
  return {
    ratio: before.count === 0 ? null : after.count / after.minutes / (before.count / before.minutes),
    bounds: { low: ratioOf(low), high: high === 1 ? Infinity : ratioOf(high) },
    chance: chanceOf(after.count, all, share),
  };
}

/** P(X ≥ count) of `all` with a probability of less than count/all each. */
function upperTail(count: number, all: number, p: number): number {
  if (p === 0) return 0;
  let [term, sum] = [1, 0];
  for (let k = count; k <= all && term > sum * Number.EPSILON; k++) {
    sum += term;
    term *= ((all - k) / (k + 1)) * (p / (1 - p));
  }
  return sum * Math.exp(logBinomial(count, all, p));
}

/** All outcomes that are no likelier than this one; as likely ones may differ by rounding. */
function chanceOf(count: number, all: number, p: number): number {
  if (all === 0) return 1;
  const odds = Math.log(p) - Math.log1p(-p);
  const logs = new Float64Array(all + 1);
  logs[0] = all * Math.log1p(-p);
  for (let k = 0; k < all; k++) logs[k + 1] = logs[k]! + Math.log((all - k) / (k + 1)) + odds;
  const limit = logs[count]! + 1e-7;
  return Math.min(
    1,
    logs.reduce((sum, log) => (log <= limit ? sum + Math.exp(log) : sum), 0),
  );
}

function logBinomial(count: number, all: number, p: number): number {
  const choices = logFactorial(all) - logFactorial(count) - logFactorial(all - count);
  return choices + count * Math.log(p) + (all - count) * Math.log1p(-p);
}

function logFactorial(count: number): number {
  let sum = 0;
  for (let k = 2; k <= count; k++) sum += Math.log(k);
  return sum;
}

/** Where a function that rises from below 0 to above it is 0, to the last digits. */
function root(from: number, to: number, rising: (x: number) => number): number {
  let [low, high] = [from, to];
  for (let n = 0; n < 60; n++) {
    const middle = (low + high) / 2;
    if (rising(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
