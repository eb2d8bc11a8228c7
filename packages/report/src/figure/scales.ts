/** One side of a figure. */
export interface Axis {
  /** `Hz`, `dB`: stands once, at the axis's end. */
  readonly unit: string;
  readonly scale: 'log' | 'linear';
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly Tick[];
}

export interface Tick {
  readonly at: number;
  readonly text: string;
  /** 0 keeps its number in the smallest figure, 2 is the first to lose it. */
  readonly rank: 0 | 1 | 2;
}

/** Where a value lies between an axis's ends: 0 to 1 within them. */
export function shareAlong({ scale, from, to }: Pick<Axis, 'scale' | 'from' | 'to'>, value: number): number {
  return scale === 'log' ? Math.log(value / from) / Math.log(to / from) : (value - from) / (to - from);
}

/** Log frequency with the trade's ticks: 2 5 10 20 50 … 1k … 100k. */
export function hzAxis(from: number = 2, to: number = 100_000): Axis {
  return logAxis(from, to, 'Hz');
}

/** Log axis from `from` to `to`, both above 0, with ticks at 1, 2 and 5 of every decade; thousands as `1k`, or as `write` has them. */
export function logAxis(from: number, to: number, unit: string, write: (value: number) => string = shortNumber): Axis {
  const [first, last] = [Math.floor(Math.log10(from)), Math.ceil(Math.log10(to))];
  const decades = Array.from({ length: last - first + 1 }, (_, n) => first + n);
  const ticks = decades.flatMap((exponent) =>
    ([1, 2, 5] as const).map((digit): Tick => {
      const at = Number(`${digit}e${exponent}`);
      return { at, text: write(at), rank: digit === 1 ? 0 : digit === 2 ? 1 : 2 };
    }),
  );
  return { unit, scale: 'log', from, to, ticks: ticks.filter(({ at }) => at >= from && at <= to) };
}

/** The 1-2-5 number at or below (`down`) or at or above a positive value. */
export function roundTo125(value: number, down: boolean): number {
  const exponent = Math.floor(Math.log10(value));
  const steps = [1, 2, 5, 10].map((digit) => Number(`${digit}e${exponent}`));
  // Room for rounding: 1000 stays 1000 where the logarithm makes it 1000.0000001.
  const found = down
    ? steps.findLast((step) => step <= value * (1 + 1e-9))
    : steps.find((step) => step >= value * (1 - 1e-9));
  return found ?? value;
}

/** Signed dB, zero among the ticks, from `low` to `high` and out to the next step. */
export function dbAxis(low: number, high: number): Axis {
  return linearAxis(low, high, 'dB', [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50], (value, decimals) =>
    value > 0 ? `+${minus(value, decimals)}` : minus(value, decimals),
  );
}

/** V, s, % from `low` to `high` and out to the next step. */
export function plainAxis(low: number, high: number, unit: string): Axis {
  const decades = Array.from({ length: 13 }, (_, n) => n - 6);
  const steps = decades.flatMap((exponent) => [1, 2, 5].map((digit) => Number(`${digit}e${exponent}`)));
  return linearAxis(low, high, unit, steps, minus);
}

/** Steps between an axis's ends, at most. */
const mostSteps = 10;

/** What reaches less than this part of a step past a tick does not bring the next one. */
const overhang = 0.15;

function linearAxis(
  low: number,
  high: number,
  unit: string,
  steps: readonly number[],
  write: (value: number, decimals: number) => string,
): Axis {
  const ends = (step: number): readonly [bottom: number, top: number] => [
    Math.floor(low / step + overhang),
    Math.ceil(high / step - overhang),
  ];
  const step =
    steps.find((each) => {
      const [bottom, top] = ends(each);
      return top - bottom <= mostSteps;
    }) ??
    steps.at(-1) ??
    1;
  const [bottom, last] = ends(step);
  const top = Math.max(last, bottom + 1);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const at = (k: number): number => Number((k * step).toFixed(decimals));
  return {
    unit,
    scale: 'linear',
    from: low < at(bottom) ? (bottom - overhang) * step : at(bottom),
    to: high > at(top) ? (top + overhang) * step : at(top),
    ticks: Array.from({ length: top - bottom + 1 }, (_, n) => bottom + n).map((k): Tick => ({
      at: at(k),
      text: write(at(k), decimals),
      rank: k === 0 ? 0 : k % 2 === 0 ? 1 : 2,
    })),
  };
}

function minus(value: number, decimals: number): string {
  return value.toFixed(value === 0 ? 0 : decimals).replace('-', '−');
}

/** `20`, `1k`, `100k`, `1M`. */
function shortNumber(value: number): string {
  const [prefix, scale] = value >= 1e6 ? ['M', 1e6] : value >= 1000 ? ['k', 1000] : ['', 1];
  return `${Number((value / scale).toPrecision(3))}${prefix}`;
}
