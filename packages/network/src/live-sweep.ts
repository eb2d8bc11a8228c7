import { createSweep, lanes, sweepPlan, sweepResidual, type WantedSide } from '@curvewright/solver';
import { addFour, fourPlaces, recordEntries } from './entry-index.ts';
import { linearise } from './linearise.ts';
import type { Network } from './network.ts';
import { frequencySolver } from './response.ts';
import { smallSignalTerms, type BiasPoint, type Term } from './small-signal-terms.ts';

/** A right side, 1 in one row (or column, transposed), and the unknowns (or rows) that are wanted of its solution. */
export interface LiveSide extends WantedSide {
  readonly wanted: readonly number[];
}

/** Solves right sides of one network over and over as its values and bias change, at frequencies fixed once. */
export interface LiveSweep {
  /** For each side, for each unknown wanted of it: re, im pairs over the frequencies. */
  readonly solutions: readonly (readonly Float64Array[])[];
  /** Frequencies solved anew with row exchanges so far, because the fixed order had lost digits. */
  readonly resolved: number;
  /** `turn`: which of the frequencies are looked at for lost digits; another number for each board reaches all in turn. */
  solve(point: BiasPoint, turn: number): void;
}

/** Largest relative residual that a checked frequency may show; the network's condition, up to 1e11, costs the rest of the digits. */
const allowed = 1e-12;

/** Frequencies whose residual is looked at on each board. */
const checkedLanes = 2;

/** Analyses the network at a bias for these frequencies (Hz) and sides; null where it is singular there. */
export function liveSweep(
  network: Network,
  nominal: BiasPoint,
  frequencies: Float64Array,
  sides: readonly LiveSide[],
): LiveSweep | null {
  const { terms, values, evaluate } = smallSignalTerms(network);
  evaluate(nominal);
  const present = [...values.keys()].filter((k) => values[k] !== 0);
  const record = recordEntries(network.size);
  const places = present.map((k) => fourPlaces(record, terms[k]!.row, terms[k]!.column));
  const pattern = record.pattern();
  const constant = new Uint8Array(pattern.rows.length).fill(1);
  present.forEach((k, n) => {
    if (terms[k]!.kind === 'conductance') return;
    for (const place of places[n]!) if (place >= 0) constant[place] = 0;
  });

  const conductance = new Float64Array(pattern.rows.length);
  const capacitance = new Float64Array(pattern.rows.length);
  const loss = new Float64Array(pattern.rows.length);
  const targetOf = ({ kind }: Term): Float64Array => ({ conductance, capacitance, loss })[kind];
  const targets = present.map((k) => targetOf(terms[k]!));
  const absent = terms.flatMap((_, k) => (present.includes(k) ? [] : [k]));

  /** False where a term has come up that the pattern has no place for. */
  function gather(point: BiasPoint): boolean {
    evaluate(point);
    for (let n = 0; n < absent.length; n++) if (values[absent[n]!] !== 0) return false;
    conductance.fill(0);
    capacitance.fill(0);
    loss.fill(0);
    for (let n = 0; n < present.length; n++) addFour(targets[n]!, places[n]!, values[present[n]!]!);
    return true;
  }

  gather(nominal);
  const samples = sampleFrequencies(frequencies).map((hz) => {
    const omega = 2 * Math.PI * hz;
    const sample = new Float64Array(2 * pattern.rows.length);
    for (let k = 0; k < pattern.rows.length; k++) {
      sample[2 * k] = conductance[k]! + omega * loss[k]!;
      sample[2 * k + 1] = omega * capacitance[k]!;
    }
    return sample;
  });
  const driven: WantedSide = { entry: network.inputs[0]!.current, transposed: false, wanted: 'all' };
  const plan = sweepPlan({ pattern, constant, samples, sides });
  const checked = sweepPlan({ pattern, constant, samples, sides: [driven] });
  if (!plan || !checked) return null;
  const sweep = createSweep(plan);
  const check = createSweep(checked);
  const residual = sweepResidual(checked, check);
  const solutions = sides.map(({ wanted }) => wanted.map(() => new Float64Array(2 * frequencies.length)));
  const slots = sides.map(({ wanted }, side) => wanted.map((line) => sweep.placeOf(side, line)));
  let resolved = 0;
  const omegas = frequencies.map((hz) => 2 * Math.PI * hz);

  function load(target: typeof sweep): void {
    target.conductance.set(conductance);
    target.capacitance.set(capacitance);
    target.loss.set(loss);
    target.prepare();
  }

  /** Frequencies spread over the sweep, others on each board, so that every one has its turn. */
  function isSound(turn: number): boolean {
    load(check);
    const spacing = frequencies.length / checkedLanes;
    for (let k = 0; k < lanes; k++) {
      check.omega[k] = omegas[(turn + Math.floor(k * spacing)) % frequencies.length]!;
    }
    check.solveBlock();
    for (let k = 0; k < checkedLanes; k++) if (!(residual.worst(0, k) <= allowed)) return false;
    return true;
  }

  function readBlock(first: number): void {
    const count = Math.min(lanes, frequencies.length - first);
    for (let side = 0; side < sides.length; side++) {
      for (let n = 0; n < slots[side]!.length; n++) {
        const [target, at] = [solutions[side]![n]!, slots[side]![n]!];
        for (let k = 0; k < count; k++) {
          target[2 * (first + k)] = sweep.slots[at + k]!;
          target[2 * (first + k) + 1] = sweep.slots[at + lanes + k]!;
        }
      }
    }
  }

  function resolve(point: BiasPoint): void {
    const small = linearise(network, point);
    const solver = frequencySolver(small);
    const x = new Float64Array(2 * small.size);
    frequencies.forEach((hz, n) => {
      const solvable = solver.setFrequency(hz);
      sides.forEach(({ entry, transposed, wanted }, side) => {
        x.fill(solvable ? 0 : NaN);
        if (solvable) {
          x[2 * entry] = 1;
          if (transposed) solver.solveTransposed(x);
          else solver.solve(x);
        }
        wanted.forEach((line, k) => {
          solutions[side]![k]!.set(x.subarray(2 * line, 2 * line + 2), 2 * n);
        });
      });
    });
    resolved += frequencies.length;
  }

  return {
    solutions,
    get resolved() {
      return resolved;
    },
    solve(point, turn) {
      if (!gather(point) || !isSound(turn)) {
        resolve(point);
        return;
      }
      load(sweep);
      for (let first = 0; first < frequencies.length; first += lanes) {
        for (let k = 0; k < lanes; k++) sweep.omega[k] = omegas[Math.min(first + k, frequencies.length - 1)]!;
        sweep.solveBlock();
        readBlock(first);
      }
    },
  };
}

/** The ends and the middle of the sweep: where the order of pivots is tried. */
function sampleFrequencies(frequencies: Float64Array): number[] {
  const sorted = frequencies.toSorted();
  return [0, 0.5, 1].map((share) => sorted[Math.round(share * (sorted.length - 1))]!);
}
