/** Rows of a chart as whole multiples of a step: row k stands for k × step dB. */
export interface DbScale {
  readonly step: number;
  /** The highest and the lowest row's multiple. */
  readonly top: number;
  readonly bottom: number;
  /** Every so many multiples carry a number. */
  readonly labelEvery: number;
}

const steps: readonly number[] = [0.25, 0.5, 1];
const labels: readonly number[] = [0.5, 1, 2, 3, 6, 10];

/** A chart is at least this tall, so that a flat curve does not become a ruler. */
const fewestRows = 9;

/**
 * The finest scale that shows `low` to `high` in `rows`, but none coarser than `detail` dB a row where a finer one
 * exists: what then does not fit is cut off, most of it at the bottom.
 */
export function dbScale(low: number, high: number, rows: number, detail: number): DbScale {
  const room = Math.max(fewestRows, rows);
  const [bottom, top] = [Math.min(0, low), Math.max(0, high)];
  const span = (step: number): number => Math.ceil(top / step - 1e-9) - Math.floor(bottom / step + 1e-9) + 1;
  const fine = steps.filter((candidate) => candidate <= detail);
  const step = fine.find((candidate) => span(candidate) <= room) ?? fine.at(-1) ?? 0.25;
  // Where not all fits, a third of the rows is enough for what stands above the curve: losses reach further.
  const highest = Math.min(Math.ceil(top / step - 1e-9), Math.max(2, Math.floor(room / 3)));
  const needed = highest - Math.floor(bottom / step + 1e-9) + 1;
  const lowest = highest - Math.min(room, Math.max(fewestRows, needed)) + 1;
  const label = labels.find((candidate) => isMultiple(candidate, step) && candidate / step >= 2) ?? 10;
  return { step, top: highest, bottom: lowest, labelEvery: Math.round(label / step) };
}

function isMultiple(label: number, step: number): boolean {
  return Math.abs(label / step - Math.round(label / step)) < 1e-9;
}

export interface HzScale {
  readonly columns: number;
  /** Column of a frequency, not rounded: 0 is the first, columns − 1 the last. */
  columnOf(hz: number): number;
  hzOf(column: number): number;
}

export function hzScale(from: number, to: number, columns: number): HzScale {
  const perColumn = Math.log(to / from) / (columns - 1);
  return {
    columns,
    columnOf: (hz) => Math.log(hz / from) / perColumn,
    hzOf: (column) => from * Math.exp(column * perColumn),
  };
}
