import type { ComparedRound } from './compared-readings.ts';

/** One reading that was taken cold and again warm. */
export interface WarmUp {
  readonly name: string;
  /** V as first read and as read last, and s between them. */
  readonly first: number;
  readonly last: number;
  readonly seconds: number;
}

/** Voltages read in more than one round of the same state, by the time since switch-on; rounds without one are left out. */
export function warmUps(rounds: readonly ComparedRound[]): readonly WarmUp[] {
  const timed = rounds
    .flatMap(({ round, readings }) => (round.onFor === undefined ? [] : [{ seconds: round.onFor, readings }]))
    .toSorted((a, b) => a.seconds - b.seconds);
  const names = new Set(
    timed.flatMap(({ readings }) => readings.flatMap(({ name, unit }) => (unit === 'V' ? [name] : []))),
  );
  return [...names].flatMap((name): WarmUp[] => {
    const taken = timed.flatMap(({ seconds, readings }) =>
      readings.flatMap((each) => (each.name === name && each.unit === 'V' ? [{ seconds, volts: each.read }] : [])),
    );
    const [first, last] = [taken[0], taken.at(-1)];
    if (first === undefined || last === undefined || last.seconds === first.seconds) return [];
    return [{ name, first: first.volts, last: last.volts, seconds: last.seconds - first.seconds }];
  });
}
