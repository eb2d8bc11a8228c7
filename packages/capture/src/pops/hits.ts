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

/** A slow event so near a stronger one, and not stronger than this share of it, is what the other one's shape leaves. */
const shadow = 0.08;
const shadowShare = 0.75;

/** Crackle: no fewer clicks, none more than so many s behind the one before. */
const fewestInBurst = 5;
const burstGap = 0.05;

/** Joins what was found at each rate into hits, in order of time. `fast`: each in the order of time, finest rate first. */
export function joinHits(fast: readonly (readonly Candidate[])[], slow: readonly Candidate[]): readonly Hit[] {
  const hits = mergeClicks(fast);
  const alone: Hit[] = [];
  let first = 0;
  for (const event of outOfShadow(slow)) {
    while (first < hits.length && hits[first]!.at < event.at - sameTime) first++;
    const near = nearest(hits, first, event.at);
    if (near === null) alone.push(hitOf(event.at, event.height, event.shape));
    else if (event.shape === 'step') hits[near] = hitOf(hits[near]!.at, event.height, 'step');
    else hits[near] = { ...hits[near]!, height: larger(hits[near]!.height, event.height) };
  }
  return gatherBursts([...hits, ...alone].sort((a, b) => a.at - b.at));
}

function hitOf(at: number, height: number, kind: HitKind): Hit {
  return { at, height, kind, clicks: 1, lasts: 0 };
}

function larger(a: number, b: number): number {
  return Math.abs(b) > Math.abs(a) ? b : a;
}

/** Clicks seen at several rates are one, told by the finest of them. */
function mergeClicks(layers: readonly (readonly Candidate[])[]): Hit[] {
  const inTime = layers
    .flatMap((candidates, layer) => candidates.map((candidate) => ({ candidate, layer })))
    .sort((a, b) => a.candidate.at - b.candidate.at);
  const hits: Hit[] = [];
  let [until, finest] = [-Infinity, Infinity];
  for (const { candidate, layer } of inTime) {
    const last = hits.at(-1);
    if (last === undefined || candidate.at - until > quietTime) {
      hits.push(hitOf(candidate.at, candidate.height, 'click'));
      [until, finest] = [candidate.until, layer];
      continue;
    }
    const at = layer < finest ? candidate.at : last.at;
    hits[hits.length - 1] = hitOf(at, larger(last.height, candidate.height), 'click');
    until = Math.max(until, candidate.until);
    finest = Math.min(finest, layer);
  }
  return hits;
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

function nearest(hits: readonly Hit[], first: number, at: number): number | null {
  let near: number | null = null;
  for (let n = first; n < hits.length && hits[n]!.at <= at + sameTime; n++) {
    if (near === null || Math.abs(hits[n]!.at - at) < Math.abs(hits[near]!.at - at)) near = n;
  }
  return near;
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
