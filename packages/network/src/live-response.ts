import { createSweep, lanes, sweepPlan, sweepResidual, type WantedSide } from '@curvewright/solver';
import { addFour, fourPlaces, recordEntries } from './entry-index.ts';
import { linearise } from './linearise.ts';
import type { Network } from './network.ts';
import { unknownOf } from './network.ts';
import { frequencySolver, solveResponse } from './response.ts';
import { smallSignalTerms, type BiasPoint, type Term } from './small-signal-terms.ts';

/** Solves the response of one network over and over as its values and bias change, over frequencies fixed once. */
export interface LiveResponse {
  /** For each channel re, im pairs, from its input node to its output node. */
  readonly gains: readonly Float64Array[];
  /** Frequencies solved anew with row exchanges so far, because the fixed order had lost digits. */
  readonly resolved: number;
  /** `turn`: which of the frequencies are looked at for lost digits; another number for each board reaches all in turn. */
  solve(point: BiasPoint, turn: number): void;
}

/** Largest relative residual that a checked frequency may show; the network's condition, up to 1e11, costs the rest of the digits. */
const allowed = 1e-12;

/** Frequencies whose residual is looked at on each board. */
const checkedLanes = 2;

/** Analyses the network at a bias for these frequencies (Hz); null where it is singular there. */
export function liveResponse(network: Network, nominal: BiasPoint, frequencies: Float64Array): LiveResponse | null {
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
  const channels = network.circuit.channels.map(({ input, output }, i) => ({
    drive: network.inputs[i]!,
    input: unknownOf(network, input),
    output: unknownOf(network, output),
  }));
  /** A generator of 1 V without impedance holds the input node at 1 V: nothing is left to divide by. */
  const ideal = network.inputs.every(({ ohms, henries }) => ohms === 0 && henries === 0);
  const sideOf = ({ drive, input, output }: (typeof channels)[number]): WantedSide => ({
    entry: drive.current,
    transposed: false,
    wanted: ideal ? [output] : [output, input],
  });
  const plan = sweepPlan({ pattern, constant, samples, sides: channels.map(sideOf) });
  const checked = sweepPlan({ pattern, constant, samples, sides: [{ ...sideOf(channels[0]!), wanted: 'all' }] });
  if (!plan || !checked) return null;
  const sweep = createSweep(plan);
  const check = createSweep(checked);
  const residual = sweepResidual(checked, check);
  const gains = channels.map(() => new Float64Array(2 * frequencies.length));
  let resolved = 0;
  const omegas = frequencies.map((hz) => 2 * Math.PI * hz);
  const outputs = channels.map(({ output }, i) => sweep.placeOf(i, output));
  const inputs = channels.map(({ input }, i) => (ideal ? -1 : sweep.placeOf(i, input)));

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
    for (let i = 0; i < gains.length; i++) {
      const [target, over, under] = [gains[i]!, outputs[i]!, inputs[i]!];
      for (let k = 0; k < count; k++) {
        const or = sweep.slots[over + k]!;
        const oi = sweep.slots[over + lanes + k]!;
        if (ideal) {
          target[2 * (first + k)] = or;
          target[2 * (first + k) + 1] = oi;
          continue;
        }
        const ur = sweep.slots[under + k]!;
        const ui = sweep.slots[under + lanes + k]!;
        const norm = ur * ur + ui * ui;
        target[2 * (first + k)] = (or * ur + oi * ui) / norm;
        target[2 * (first + k) + 1] = (oi * ur - or * ui) / norm;
      }
    }
  }

  function resolve(point: BiasPoint): void {
    const small = linearise(network, point);
    const response = solveResponse(small, frequencies, frequencySolver(small));
    gains.forEach((target, i) => {
      target.set(response.gains[i]![i]!);
    });
    resolved += frequencies.length;
  }

  return {
    gains,
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
