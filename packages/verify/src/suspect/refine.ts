import { predictFault, type Catalogue } from './catalogue.ts';
import type { Entry } from './entry.ts';
import type { BestFit, Weighed, Weigher } from './weigh.ts';

/** An entry with cases of its own where readings ask for them. */
export interface Refined {
  readonly entry: Entry;
  readonly weighed: Weighed;
}

/** Solves added to an entry, at most. */
const mostSolves = 6;

/** By how much χ² may still be off once a fit counts as found. */
const near = 0.3;

/** Standard deviations between two cases up to which a straight line from one to the other is near enough. */
const shortStride = 3;

/** ln of the likelihood that no closer fit makes up for: what a straight line has been seen to lose is 70. */
const hopeless = 100;

/** Hypotheses whose fit is looked at. */
const candidates = 12;

/**
 * Fits the likeliest hypotheses to the readings with solves of their own: the straight line between two cases is only as good as they are near, and
 * where a value moves a voltage by many standard deviations they are not. Each time the fault is solved at the value found so far, which becomes a case (bounded
 * least squares on the logarithm of the value, the bounds being those of the run). In the catalogue's order; null where nothing was to be refined.
 */
export function refined(
  catalogue: Catalogue,
  weigher: Weigher,
  values: Float64Array,
  weighed: readonly Weighed[],
): readonly (Refined | null)[] {
  const found: (Refined | null)[] = weighed.map(() => null);
  const logOf = (n: number): number => (found[n]?.weighed ?? weighed[n]!).logLikelihood;
  const fitted = catalogue.entries.flatMap(({ runs }, n) => (runs.some((run) => run.values.length > 1) ? [n] : []));
  for (;;) {
    const leading = fitted.toSorted((a, b) => logOf(b) - logOf(a)).slice(0, candidates);
    const best = Math.max(...weighed.map((_, n) => logOf(n)));
    const next = leading.find((n) => found[n] === null && logOf(n) > best - hopeless);
    if (next === undefined) return found;
    found[next] = refinedEntry(catalogue, weigher, values, catalogue.entries[next]!, weighed[next]!);
  }
}

function refinedEntry(
  catalogue: Catalogue,
  weigher: Weigher,
  values: Float64Array,
  entry: Entry,
  weighed: Weighed,
): Refined {
  let now: Refined = { entry, weighed };
  for (let n = 0; n < mostSolves; n++) {
    const { best } = now.weighed;
    if (best.share === 0 || best.value === null || best.stride < shortStride) return now;
    const closer = withCase(catalogue, now.entry, best);
    if (closer === null) return now;
    const then = weigher.one(closer, values);
    const settled = Math.abs(then.best.square - best.square) < near;
    now = { entry: closer, weighed: then };
    if (settled) return now;
  }
  return now;
}

/** Null where the fault has no bias there. */
function withCase(catalogue: Catalogue, entry: Entry, { run: r, index, value }: BestFit): Entry | null {
  const run = entry.runs[r]!;
  const prediction = predictFault(entry.hypothesis, run.of, value, catalogue.circuit, catalogue.setting);
  if (prediction === null) return null;
  const between = {
    of: run.of,
    values: run.values.toSpliced(index + 1, 0, value),
    predictions: run.predictions.toSpliced(index + 1, 0, prediction),
  };
  return { ...entry, runs: entry.runs.map((each, n) => (n === r ? between : each)) };
}
