import { quietTime, type Candidate } from './layers.ts';

export type HitKind = 'click' | 'step' | 'burst';

/** One pop. */
export interface Hit {
  /** s from the start. */
  readonly at: number;
  /** Share of full scale, with its sign; of a burst, of its largest click. */
  readonly height: number;
  readonly kind: HitKind;
  /** Clicks in a burst, else 1. */
  readonly clicks: number;
  /** s from the first to the last click of a burst, else 0. */
  readonly lasts: number;
}

/** A slow event and a fast one no further apart are the same. */
const sameTime = 0.01;

/** A gap of this share of how long something has lasted does not end it. */
const tailShare = 0.3;

/**
 * A slow event so near a stronger one, and not as strong as this share of it, is what the other one leaves: a level that coupling capacitors bring
 * back, or the predictor's own memory. A pulse shorter than this may count once.
 */
const shadow = 0.08;
const shadowShare = 0.9;

/** Crackle: no fewer clicks, none more than so many s behind the one before. */
const fewestInBurst = 5;
const burstGap = 0.05;

/**
 * Joins what was found at each rate into hits, in order of time: a coarser rate adds what the finer ones did not see. `fast`: clicks in the order of
 * time, finest rate first; `slow`: clicks and steps.
 */
export function joinHits(
  [finest = [], ...coarser]: readonly (readonly Candidate[])[],
  slow: readonly Candidate[],
): readonly Hit[] {
  let seen = mergeTails(finest);
  for (const candidates of coarser) seen = withCandidates(seen, mergeTails(candidates), quietTime);
  return gatherBursts(withCandidates(seen, outOfShadow(slow), sameTime).map(hitOf));
}

function hitOf({ at, height, shape }: Candidate): Hit {
  return { at, height, kind: shape, clicks: 1, lasts: 0 };
}

function larger(a: number, b: number): number {
  return Math.abs(b) > Math.abs(a) ? b : a;
}

/** A long one fades among the noise with gaps: what follows it at once, measured by how long it lasts, is still the same. */
function mergeTails(candidates: readonly Candidate[]): readonly Candidate[] {
  const merged: Candidate[] = [];
  for (const candidate of candidates) {
    const last = merged.at(-1);
    if (last !== undefined && candidate.at - last.until <= Math.max(quietTime, tailShare * (last.until - last.at))) {
      merged[merged.length - 1] = { ...last, until: candidate.until, height: larger(last.height, candidate.height) };
    } else merged.push(candidate);
  }
  return merged;
}

/** Both in order of time. What is seen already keeps its time; a step tells its height and its kind better than the edge alone. */
function withCandidates(
  seen: readonly Candidate[],
  candidates: readonly Candidate[],
  apart: number,
): readonly Candidate[] {
  const joined = [...seen];
  const alone: Candidate[] = [];
  let first = 0;
  for (const candidate of candidates) {
    while (first < seen.length && seen[first]!.until < candidate.at - apart) first++;
    let near: number | null = null;
    for (let n = first; n < seen.length && seen[n]!.at <= candidate.until + apart; n++) {
      if (near === null || Math.abs(seen[n]!.at - candidate.at) < Math.abs(seen[near]!.at - candidate.at)) near = n;
    }
    if (near === null) alone.push(candidate);
    else if (candidate.shape === 'step') joined[near] = { ...joined[near]!, shape: 'step', height: candidate.height };
    else joined[near] = { ...joined[near]!, height: larger(joined[near]!.height, candidate.height) };
  }
  return [...joined, ...alone].sort((a, b) => a.at - b.at);
}

function outOfShadow(slow: readonly Candidate[]): readonly Candidate[] {
  const inTime = [...slow].sort((a, b) => a.at - b.at);
  return inTime.filter(({ at, strength }, n) => {
    for (const direction of [-1, 1]) {
      for (let k = n + direction; inTime[k] !== undefined && Math.abs(inTime[k]!.at - at) <= shadow; k += direction) {
        if (strength < shadowShare * inTime[k]!.strength) return false;
      }
    }
    return true;
  });
}

/** Clicks close behind each other become one hit; steps stand for themselves. */
function gatherBursts(hits: readonly Hit[]): readonly Hit[] {
  const steps = hits.filter(({ kind }) => kind === 'step');
  const runs: Hit[][] = [];
  for (const hit of hits) {
    if (hit.kind === 'step') continue;
    const run = runs.at(-1);
    if (run !== undefined && hit.at - run.at(-1)!.at <= burstGap) run.push(hit);
    else runs.push([hit]);
  }
  const others = runs.flatMap((run): readonly Hit[] => {
    if (run.length < fewestInBurst) return run;
    const [first, last] = [run[0]!, run.at(-1)!];
    const height = run.reduce((most, hit) => larger(most, hit.height), 0);
    return [{ at: first.at, height, kind: 'burst', clicks: run.length, lasts: last.at - first.at }];
  });
  return [...steps, ...others].sort((a, b) => a.at - b.at);
}
