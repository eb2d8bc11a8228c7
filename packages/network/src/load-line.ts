import type { Departure } from './departures.ts';
import { loadLineEquations, type LoadLineEquations } from './load-line-equations.ts';

/**
 * All nonlinear parts of a channel at one instant, on their common load line u = open + R·i(u). The open moves are those that the rest of the
 * wave alone would make; however steep the exponentials, the load line holds moves and currents to what the network around them can give.
 */
export interface LoadLine extends Pick<LoadLineEquations, 'controls' | 'ports' | 'moves' | 'currents' | 'charges'> {
  /** Finds the moves for these open ones, from where `moves` stands, each control to within its `slack` (V); false where they were not found. */
  settle(open: Float64Array, slack: Float64Array): boolean;
  /** Slopes of currents and charges at `moves` over the open moves, ports × controls, row-major, written from `at` on. */
  linearise(currentSlopes: Float64Array, chargeSlopes: Float64Array, at: number): void;
}

/** Newton steps; from a neighbouring instant it takes two or three, and what takes more than these goes around in circles. */
const mostSteps = 15;

/** Steps of a search held back; from one end of a loop that turns about to the other it takes ten to eighty. */
const mostHeldSteps = 200;

/** The least drag on a step, over the slope of the load line itself, how it grows, and where no drag helps. */
const leastDrag = 1e-3;
const moreDrag = 4;
const mostDrag = 1e9;

/** `resistances`: R, controls × ports, row-major. */
export function loadLine(parts: readonly Departure[], resistances: Float64Array): LoadLine {
  const equations = loadLineEquations(parts, resistances);
  const { controls, ports, moves, currents, charges } = equations;

  function search(open: Float64Array, slack: Float64Array): boolean {
    for (let n = 0; n < mostSteps; n++) {
      equations.evaluate();
      if (equations.leave(open, slack)) return true;
      if (equations.factor(0) === 0) return false;
      equations.advance();
    }
    return false;
  }

  /**
   * Where the solution nearby has gone (a stage that saturates can turn a loop's feedback about, and jumps), follows u' = open + R·i − u by
   * implicit Euler steps, each so short that the determinant keeps its sign: the step then leads away from the fold, down to the other
   * solution (pseudo-transient continuation: Kelley & Keyes, SIAM J. Numer. Anal. 35, 1998; the choice of the step is our own).
   */
  function searchHeld(open: Float64Array, slack: Float64Array): boolean {
    for (let n = 0; n < mostHeldSteps; n++) {
      equations.evaluate();
      if (equations.leave(open, slack)) return true;
      for (let drag = 0; equations.factor(drag) <= 0; drag = Math.max(moreDrag * drag, leastDrag)) {
        if (drag > mostDrag) return false;
      }
      equations.advance();
    }
    return false;
  }

  return {
    controls,
    ports,
    moves,
    currents,
    charges,
    settle: (open, slack) => search(open, slack) || searchHeld(open, slack),
    linearise(currentSlopes, chargeSlopes, at) {
      equations.evaluate();
      equations.factor(0);
      equations.slopes(currentSlopes, chargeSlopes, at);
    },
  };
}
