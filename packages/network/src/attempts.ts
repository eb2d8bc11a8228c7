import { noRelief, type Relief } from './equations.ts';
import type { Search } from './newton.ts';

/** How the bias was found: straight, or with which fallback. */
export type BiasMethod = 'newton' | 'shunt lowered' | 'rails raised' | 'start-up';

/** The ways to a bias in the order in which they are tried; each starts from a search that was reset and says whether it got there. */
export const attempts: readonly { readonly method: BiasMethod; readonly find: (search: Search) => boolean }[] = [
  { method: 'newton', find: straight },
  { method: 'shunt lowered', find: lowerShunt },
  { method: 'rails raised', find: raiseRails },
  { method: 'start-up', find: startUp },
];

/** Plain Newton on the circuit as it is, from where the search stands. */
export function straight(search: Search): boolean {
  return search.run(noRelief, { steps: 100, looseness: 1 }).kind === 'converged';
}

const stage = { steps: 60, looseness: 1e6 };

function lowerShunt(search: Search): boolean {
  const walked = walk(search, 1e-4, (decades) => ({ rails: 1, shunt: 10 ** decades, anchor: null }), -1, -13);
  return walked && straight(search);
}

function raiseRails(search: Search): boolean {
  return walk(search, 5e-5, (rails) => ({ rails, shunt: 0, anchor: null }), 0, 1) && straight(search);
}

/** Steps a parameter from `from` to `to`, doubling the step where the search settles, halving it where not, down to `smallest`. */
function walk(
  search: Search,
  smallest: number,
  reliefAt: (parameter: number) => Relief,
  from: number,
  to: number,
): boolean {
  const heldX = search.x.slice();
  const heldControls = search.equations.controls.slice();
  const direction = Math.sign(to - from);
  if (search.run(reliefAt(from), stage).kind !== 'converged') return false;
  let at = from;
  let stride = Math.abs(to - from) / 12;
  while (at !== to) {
    heldX.set(search.x);
    heldControls.set(search.equations.controls);
    const next = Math.abs(to - at) <= stride ? to : at + direction * stride;
    if (search.run(reliefAt(next), stage).kind === 'converged') {
      at = next;
      stride *= 2;
      continue;
    }
    search.x.set(heldX);
    search.equations.controls.set(heldControls);
    stride /= 2;
    if (stride < smallest) return false;
  }
  return true;
}

/**
 * A switch-on with equal capacitances from every node to gnd, by backward Euler with a growing step: the shunt stands for
 * C/h, its anchor for the voltages of the step before (pseudo-transient continuation: Kelley & Keyes, SIAM J. Numer.
 * Anal. 35, 1998).
 */
function startUp(search: Search): boolean {
  const anchor = search.x.slice();
  const heldControls = search.equations.controls.slice();
  let shunt = 1;
  for (let n = 0; n < 400; n++) {
    if (search.run({ rails: 1, shunt, anchor }, stage).kind === 'converged') {
      anchor.set(search.x);
      heldControls.set(search.equations.controls);
      shunt /= 2;
      if (shunt < 1e-15) return straight(search);
    } else {
      search.x.set(anchor);
      search.equations.controls.set(heldControls);
      shunt *= 8;
      if (shunt > 1e6) return false;
    }
  }
  return false;
}
