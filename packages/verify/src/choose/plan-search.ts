import type { Steps } from '../steps.ts';

/** One way to change one place: what it takes from the drawer. */
export interface Option {
  readonly place: number;
  readonly takes: readonly { readonly stock: string; readonly pieces: number }[];
}

/** A search for the fewest changes that make something pass, and of these for the best. */
export interface PlanProblem<O extends Option> {
  /** For each place. */
  readonly options: readonly (readonly O[])[];
  /** Pieces of each stock that is counted; others are taken to be plenty. */
  readonly held: ReadonlyMap<string, number>;
  /** Whether a set of changes passes. */
  readonly judge: (chosen: readonly O[]) => boolean;
  /** Below 0 where the first of two sets that pass is the better one. */
  readonly compare: (a: readonly O[], b: readonly O[]) => number;
  /** Whether a set that passes also passes what is too dear to be asked of every set; asked of the best first. */
  readonly accept: (chosen: readonly O[]) => boolean;
  /** False only where no way to change the `open` places besides those chosen can make it pass. */
  readonly mayPass: (chosen: readonly O[], open: readonly number[]) => boolean;
  /** Work that is done at most: a look at a bound counts 1, a set that is judged 100, one that is asked to be accepted 100,000. */
  readonly most: number;
}

export interface PlanFound<O extends Option> {
  /** Null where no set passes, or none was found before the work was given up. */
  readonly chosen: readonly O[] | null;
  /** Every set with fewer changes than this was judged, or shown not to pass: none does. */
  readonly shownBelow: number;
  /** Whether of the sets with as many changes as `chosen` every one was judged or shown not to pass. */
  readonly exact: boolean;
  readonly judged: number;
}

/** What a solved board and a whole check cost beside a look at a bound. */
const [judgeWork, acceptWork] = [100, 100_000];

/** Looks at bounds, and sets judged, between two steps. */
const [lookStride, judgeStride] = [5000, 50];

/**
 * Iterative deepening over the number of changes (Korf, Artificial Intelligence 27, 1985), depth first within it; a branch is cut where
 * the drawer is short of pieces and where `mayPass` says that nothing below can pass.
 */
export function* smallestPlan<O extends Option>(problem: PlanProblem<O>): Steps<PlanFound<O>> {
  const places = problem.options.flatMap((options, place) => (options.length > 0 ? [place] : []));
  let [judged, work] = [0, 0];
  const isFull = (): boolean => work >= problem.most;

  function* gather(chosen: readonly O[], open: readonly number[], passing: (readonly O[])[]): Generator<void> {
    work += 1;
    if (work % lookStride === 0) yield;
    if (isFull() || !problem.mayPass(chosen, open)) return;
    const [place, ...rest] = open;
    if (place === undefined) {
      judged += 1;
      work += judgeWork;
      if (judged % judgeStride === 0) yield;
      if (problem.judge(chosen)) passing.push(chosen);
      return;
    }
    for (const option of problem.options[place] ?? []) {
      const more = [...chosen, option];
      if (isHeld(more, problem.held)) yield* gather(more, rest, passing);
      if (isFull()) return;
    }
  }

  function* bestOf(passing: (readonly O[])[]): Generator<void, readonly O[] | null> {
    passing.sort(problem.compare);
    for (const [n, chosen] of passing.entries()) {
      // The best of what was gathered is asked even where no work is left.
      if (n > 0 && isFull()) return null;
      work += acceptWork;
      yield;
      if (problem.accept(chosen)) return chosen;
    }
    return null;
  }

  const most = Math.min(places.length, mostHeld(problem));
  for (let size = 0; size <= most; size++) {
    const passing: (readonly O[])[] = [];
    for (const open of subsetsOf(places, size)) {
      yield* shared(gather([], open, passing));
      if (isFull()) break;
    }
    const wasWhole = !isFull();
    const chosen = yield* shared(bestOf(passing));
    if (chosen !== null) return { chosen, shownBelow: size, exact: wasWhole, judged };
    if (isFull()) return { chosen: null, shownBelow: size, exact: false, judged };
  }
  return { chosen: null, shownBelow: most + 1, exact: true, judged };

  function* shared<T>(steps: Generator<void, T>): Steps<T> {
    for (;;) {
      const { done, value } = steps.next();
      if (done === true) return value;
      yield Math.min(1, work / problem.most);
    }
  }
}

/** Changes that the drawer has pieces for, if each took as few as any does. */
function mostHeld<O extends Option>({ options, held }: PlanProblem<O>): number {
  const takes = options.flat().map((option) => option.takes);
  const least = Math.min(...takes.map((each) => each.reduce((sum, { pieces }) => sum + pieces, 0)));
  const stocks = new Set(takes.flatMap((each) => each.map(({ stock }) => stock)));
  const pieces = [...stocks].reduce((sum, stock) => sum + (held.get(stock) ?? Infinity), 0);
  return stocks.size === 0 || least === 0 ? Infinity : Math.floor(pieces / least);
}

/** Whether the drawer holds what all these take together. */
export function isHeld(chosen: readonly Option[], held: ReadonlyMap<string, number>): boolean {
  const taken = new Map<string, number>();
  for (const { stock, pieces } of chosen.flatMap(({ takes }) => takes)) {
    const total = (taken.get(stock) ?? 0) + pieces;
    if (total > (held.get(stock) ?? Infinity)) return false;
    taken.set(stock, total);
  }
  return true;
}

/** Every way to pick so many of these, in their order. */
function* subsetsOf(items: readonly number[], size: number): Generator<readonly number[]> {
  if (size === 0) {
    yield [];
    return;
  }
  for (let n = 0; n + size <= items.length; n++) {
    for (const rest of subsetsOf(items.slice(n + 1), size - 1)) yield [items[n]!, ...rest];
  }
}
