import { cardSuspects, withFault, type CardSuspect } from './card-faults.ts';
import { cardMeasurements, changeOf, readings, type CardMeasurement, type Change } from './card-measurements.ts';
import { rebuilt, type LessonBench } from './lesson-bench.ts';

/** A board with one fault, to be found with few measurements. */
export interface FaultCard {
  readonly measurements: readonly CardMeasurement[];
  /** As drawn, in their order. */
  readonly healthy: readonly number[];
  readonly suspects: readonly ShownSuspect[];
  /** Index of what is wrong. */
  readonly answer: number;
  /** The fewest measurements of which, for every other suspect, one goes another way. */
  readonly fewest: number;
}

export interface ShownSuspect extends CardSuspect {
  readonly readings: readonly number[];
  /** Against `healthy`. */
  readonly changes: readonly Change[];
}

/** Beside what is wrong. */
const mostOthers = 7;

/** More than this nobody should need. */
const mostMeasured = 4;

/**
 * A card on which the first of these that shows itself is wrong, among others of the board that could be taken for it. Null where none of
 * them shows.
 */
export function faultCard(bench: LessonBench, wrong: readonly CardSuspect[]): FaultCard | null {
  const measurements = cardMeasurements(bench);
  const healthy = readings(bench, measurements);
  const shown = (suspect: CardSuspect): readonly ShownSuspect[] => {
    const faulty = rebuilt(bench, withFault(bench, suspect));
    if (faulty === null) return [];
    const now = readings(faulty, measurements);
    const changes = measurements.map((each, m) => changeOf(each, healthy[m] ?? NaN, now[m] ?? NaN));
    return changes.every((change) => change === 'same') ? [] : [{ ...suspect, readings: now, changes }];
  };
  const known = cardSuspects(bench).flatMap(shown);
  for (const { ref, fault } of wrong) {
    const truth = known.find((each) => each.ref === ref && each.fault === fault);
    if (truth === undefined) continue;
    const others = known
      .map((suspect) => ({ suspect, tells: suspect.changes.map((change, m) => change !== truth.changes[m]) }))
      .filter(({ tells }) => tells.includes(true))
      .toSorted((a, b) => count(a.tells) - count(b.tells))
      .slice(0, mostOthers);
    const fewest = fewestMeasurements(others.map(({ tells }) => tells));
    if (others.length === 0 || fewest === null) continue;
    const suspects = [truth, ...others.map(({ suspect }) => suspect)].toSorted(byDesignator);
    return { measurements, healthy, suspects, answer: suspects.indexOf(truth), fewest };
  }
  return null;
}

function count(tells: readonly boolean[]): number {
  return tells.filter(Boolean).length;
}

function byDesignator(a: CardSuspect, b: CardSuspect): number {
  return a.ref.localeCompare(b.ref, 'en', { numeric: true }) || a.fault.localeCompare(b.fault, 'en');
}

/** The size of the smallest set of measurements of which, for every other suspect, one tells. */
function fewestMeasurements(others: readonly (readonly boolean[])[]): number | null {
  const columns = [
    ...new Set((others[0] ?? []).map((_, m) => others.map((tells) => (tells[m] === true ? 1 : 0)).join(''))),
  ];
  const covers = (chosen: readonly string[]): boolean =>
    others.every((_, o) => chosen.some((column) => column[o] === '1'));
  const reach = (chosen: readonly string[], from: number, left: number): boolean =>
    left === 0
      ? covers(chosen)
      : columns.slice(from).some((column, n) => reach([...chosen, column], from + n + 1, left - 1));
  for (let size = 1; size <= mostMeasured; size++) if (reach([], 0, size)) return size;
  return null;
}
