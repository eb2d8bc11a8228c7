import type { SteadySearch, SteadyState } from '@curvewright/network';
import { excess } from './distortion.ts';

/** The levels told of, V rms: 1, 2, 5 in every decade. */
export const toldLevels: readonly number[] = [1e-3, 1e-2, 1e-1, 1].flatMap((decade) => [
  decade,
  2 * decade,
  5 * decade,
]);

/** A search for overload from the smallest level up. */
export interface OverloadSearch {
  /** States on the way up at told levels, the last of them beyond overload where one was reached. */
  readonly told: readonly SteadyState[];
  readonly found: { readonly state: SteadyState; readonly within: number } | null;
  /** The highest level on the way up at which a steady state was found, V rms. */
  readonly triedVolts: number;
  /** The way up ended below the highest level, with no overload and no steady state beyond. */
  readonly brokenOff: boolean;
}

/** Factors of level from one state to the next. */
const longestStep = 2.5;
const shortestStep = 1.003;

/** Factors of level from where a search broke off, and how many: up to 1.4 dB. */
const stepBeyond = 1.03;
const stepsBeyond = 6;

/** Powers by which a factor shrinks where no state is found, and grows where one is. */
const shrink = 0.4;
const grow = 1.4;

/** An overload level is found to this fraction (0.01 dB), or to this fraction of the distortion that makes it one, which grows faster. */
const levelTolerance = 1e-3;
const excessTolerance = 1e-3;

/**
 * The steady states at growing levels, through every one of `levels`, until no nearer step settles. Each search starts on the line through
 * the two states before it; where a stage begins to clip the steps shrink.
 */
export function* risingStates(search: SteadySearch, levels: readonly number[]): Generator<SteadyState> {
  let before: SteadyState | null = null;
  let last: SteadyState | null = null;
  let factor = longestStep;
  for (const goal of levels) {
    while (last === null || last.inputVolts < goal) {
      const next: number = last === null ? goal : Math.min(goal, last.inputVolts * factor);
      const state: SteadyState | null = search.at(next, last, before);
      if (state !== null) {
        yield state;
        before = last;
        last = state;
        factor = Math.min(factor ** grow, longestStep);
      } else if (factor < shortestStep || last === null) return;
      else factor = Math.min(factor, next / last.inputVolts) ** shrink;
    }
  }
}

/** Up through `levels` to the first one beyond overload, then between the last two to the overload itself. */
export function searchOverload(search: SteadySearch, levels: readonly number[] = toldLevels): OverloadSearch {
  const told: SteadyState[] = [];
  let below: SteadyState | null = null;
  for (const state of risingStates(search, levels)) {
    if (toldLevels.includes(state.inputVolts)) told.push(state);
    if (excess(state) >= 0) {
      const found = below === null ? { state, within: 0 } : between(search, below, state);
      return { told, found, triedVolts: state.inputVolts, brokenOff: false };
    }
    below = state;
  }
  const triedVolts = below?.inputVolts ?? 0;
  return { told, found: null, triedVolts, brokenOff: triedVolts < Math.max(...levels) };
}

/**
 * Beyond the level at which a search broke off because the wave would have to jump, on another search that smooths jumps: from the told level
 * below it in short steps.
 */
export function searchBeyond(smoothed: SteadySearch, sharp: OverloadSearch): OverloadSearch {
  const from = sharp.told.at(-1)?.inputVolts;
  if (from === undefined) return sharp;
  const beyond = Array.from({ length: stepsBeyond }, (_, n) => sharp.triedVolts * stepBeyond ** n);
  const { found } = searchOverload(smoothed, [from, ...beyond.filter((level) => level > from)]);
  if (found === null) return sharp;
  const apart = Math.abs(found.state.inputVolts / sharp.triedVolts - 1);
  return { ...sharp, found: { ...found, within: Math.max(found.within, apart) }, brokenOff: false };
}

/**
 * Regula falsi with the Illinois rule (Dowell & Jarratt, BIT 11, 1971) over the logarithm of the level. `within`: the fraction of its level to
 * which overload is bounded.
 */
function between(
  search: SteadySearch,
  below: SteadyState,
  above: SteadyState,
): { readonly state: SteadyState; readonly within: number } {
  let [low, high] = [below, above];
  let [atLow, atHigh] = [excess(below), excess(above)];
  let side = 0;
  while (high.inputVolts / low.inputVolts - 1 > levelTolerance) {
    const share = Math.min(Math.max(atHigh / (atHigh - atLow), 0.05), 0.95);
    const state = nearest(search, high.inputVolts * (low.inputVolts / high.inputVolts) ** share, low, high);
    if (state === null) break;
    const at = excess(state);
    if (Math.abs(at) < excessTolerance) return { state, within: levelTolerance };
    if (at < 0) {
      [low, atLow] = [state, at];
      if (side < 0) atHigh /= 2;
      side = -1;
    } else {
      [high, atHigh] = [state, at];
      if (side > 0) atLow /= 2;
      side = 1;
    }
  }
  return { state: -excess(low) < excess(high) ? low : high, within: high.inputVolts / low.inputVolts - 1 };
}

/** The state at a level, or failing that at one closer to the lower end. */
function nearest(search: SteadySearch, inputVolts: number, low: SteadyState, high: SteadyState): SteadyState | null {
  let level = inputVolts;
  while (level / low.inputVolts - 1 > levelTolerance / 2) {
    const state = search.at(level, low, high) ?? search.at(level, high, low);
    if (state !== null) return state;
    level = Math.sqrt(level * low.inputVolts);
  }
  return null;
}
