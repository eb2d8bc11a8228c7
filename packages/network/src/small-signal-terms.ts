import { reach } from '@curvewright/devices';
import { deviceWindows } from './device-windows.ts';
import { common, type PlacedDevice, type Unknown } from './elements.ts';
import type { Network } from './network.ts';

/** Which of the matrices G, C and D of A(ω) = G + jω·C + ω·D a term belongs to. */
export type TermKind = 'conductance' | 'capacitance' | 'loss';

/** From the first unknown to the second; `common` for gnd, and for the other end of a row or column that stands alone. */
export type Pair = readonly [Unknown, Unknown];

/**
 * One term of the linearised network: its value times (column's first − column's second) flows out of the row's first and into the row's
 * second, so that what is the same at both ends of a pair drops out before any rounding.
 */
export interface Term {
  readonly kind: TermKind;
  /** Designator of the part it comes from. */
  readonly ref: string;
  readonly row: Pair;
  readonly column: Pair;
}

/** Where the network is linearised. */
export interface BiasPoint {
  readonly x: Float64Array;
  readonly controls: Float64Array;
}

/** All terms a network can have, found once, and their values at a bias, written anew without allocation. */
export interface SmallSignalTerms {
  readonly terms: readonly Term[];
  /** S, F, or F·tan δ; −Ω and −H in branch rows. Zero where a term is absent. */
  readonly values: Float64Array;
  /** Writes `values` from the network's elements, the devices at `controls`, the op-amps at `x`. */
  readonly evaluate: (point: BiasPoint) => void;
}

export function smallSignalTerms(network: Network): SmallSignalTerms {
  const shared = new Float64Array(network.devices.reduce((sum, { device }) => sum + device.controls.length, 0));
  const writers = [passiveTerms(network), ...deviceTerms(network, shared), amplifierTerms(network)];
  const terms = writers.flatMap((writer) => writer.terms);
  const values = new Float64Array(terms.length);
  let from = 0;
  const windows = writers.map((writer) => values.subarray(from, (from += writer.terms.length)));
  return {
    terms,
    values,
    evaluate({ x, controls }) {
      shared.set(controls);
      for (let i = 0; i < writers.length; i++) writers[i]!.write(windows[i]!, x);
    },
  };
}

/** Takes each term that is not zero at a bias. */
export type TermVisitor = (kind: TermKind, ref: string, row: Pair, column: Pair, value: number) => void;

/** Every term of the network linearised at its bias, by the designator of its part. */
export function visitSmallSignalTerms(network: Network, point: BiasPoint, visit: TermVisitor): void {
  const { terms, values, evaluate } = smallSignalTerms(network);
  evaluate(point);
  terms.forEach(({ kind, ref, row, column }, k) => {
    if (values[k] !== 0) visit(kind, ref, row, column, values[k]!);
  });
}

interface TermWriter {
  readonly terms: readonly Term[];
  write(values: Float64Array, x: Float64Array): void;
}

function passiveTerms({ conductances, capacitances, branches }: Network): TermWriter {
  // A board written anew may set a loss to 0: its term stays.
  const lossy = capacitances.map(({ loss }) => loss > 0);
  const terms = [
    ...conductances.map(({ ref, a, b }) => term('conductance', ref, [a, b], [a, b])),
    ...capacitances.flatMap(({ ref, a, b }, i) => [
      term('capacitance', ref, [a, b], [a, b]),
      ...(lossy[i] ? [term('loss', ref, [a, b], [a, b])] : []),
    ]),
    ...branches.flatMap(({ ref, a, b, current }) => {
      const own: Pair = [current, common];
      return [
        term('conductance', ref, [a, b], own),
        term('conductance', ref, own, [a, b]),
        term('conductance', ref, own, own),
        term('capacitance', ref, own, own),
      ];
    }),
  ];
  return {
    terms,
    write(values) {
      let k = 0;
      for (let i = 0; i < conductances.length; i++) values[k++] = conductances[i]!.siemens;
      for (let i = 0; i < capacitances.length; i++) {
        const { farads, loss } = capacitances[i]!;
        values[k++] = farads;
        if (lossy[i]) values[k++] = farads * loss;
      }
      for (let i = 0; i < branches.length; i++) {
        const { ohms, henries } = branches[i]!;
        values[k++] = 1;
        values[k++] = 1;
        values[k++] = -ohms;
        values[k++] = -henries;
      }
    },
  };
}

function deviceTerms(network: Network, controls: Float64Array): TermWriter[] {
  const windows = deviceWindows(network, controls);
  return network.devices.map((placed, i) => {
    const { at, currents, slopes } = windows[i]!;
    const slopeTerms = slopeTermsOf(placed);
    const chargeTerms = chargeTermsOf(placed);
    return {
      terms: [...slopeTerms.map((each) => each.term), ...chargeTerms.map((each) => each.term)],
      write(values) {
        // A board written anew carries devices of its own.
        const { device } = network.devices[i]!;
        device.evaluate(at, currents, slopes);
        let k = 0;
        for (let n = 0; n < slopeTerms.length; n++) values[k++] = slopes[slopeTerms[n]!.slope]!;
        device.store(at, currents, slopes);
        for (let n = 0; n < chargeTerms.length; n++) values[k++] = chargeTerms[n]!.farads(slopes);
      },
    };
  });
}

/** What a control moves into the leads adds up to nothing: each control's minus lead is the one that gives it back. */
function slopeTermsOf({ ref, device, leads }: PlacedDevice): { term: Term; slope: number }[] {
  const width = device.controls.length;
  return device.controls.flatMap(([plus, minus], k) =>
    leads.flatMap((from, lead) =>
      lead === minus
        ? []
        : [
            {
              term: term('conductance', ref, [from, leads[minus]!], [leads[plus]!, leads[minus]!]),
              slope: lead * width + k,
            },
          ],
    ),
  );
}

/** The charges of every device are those of capacitances between its leads, whatever controls they are written in. */
function chargeTermsOf({ ref, device, leads }: PlacedDevice): { term: Term; farads(slopes: Float64Array): number }[] {
  const { controls } = device;
  /** −∂Q(lead)/∂v(other). */
  const by = (slopes: Float64Array, lead: number, other: number): number => {
    let sum = 0;
    for (let k = 0; k < controls.length; k++) {
      const slope = slopes[lead * controls.length + k]!;
      if (controls[k]![0] === other) sum -= slope;
      if (controls[k]![1] === other) sum += slope;
    }
    return sum;
  };
  return leads.flatMap((from, lead) =>
    leads.slice(lead + 1).map((to, n) => ({
      term: term('capacitance', ref, [from, to], [from, to]),
      farads(slopes: Float64Array): number {
        const farads = by(slopes, lead, lead + 1 + n);
        const back = by(slopes, lead + 1 + n, lead);
        if (Math.abs(farads - back) > 1e-12 * Math.abs(farads))
          throw new Error(`${ref} stores charge that does not go both ways`);
        return farads;
      },
    })),
  );
}

function amplifierTerms({ amplifiers }: Network): TermWriter {
  const terms = amplifiers.flatMap(({ ref, plus, minus, out, rails, drive, current }) => {
    const [striving, flowing]: [Pair, Pair] = [
      [drive, common],
      [current, common],
    ];
    return [
      term('conductance', ref, [out, common], flowing),
      term('conductance', ref, striving, [plus, minus]),
      term('conductance', ref, striving, striving),
      term('capacitance', ref, striving, striving),
      term('conductance', ref, flowing, [out, common]),
      term('conductance', ref, flowing, striving),
      term('conductance', ref, flowing, flowing),
      ...(rails ?? []).flatMap((rail) => [
        term('conductance', ref, striving, [rail, common]),
        term('conductance', ref, flowing, [rail, common]),
      ]),
    ];
  });
  const limited = new Float64Array(4);
  return {
    terms,
    write(values, x) {
      const volts = (u: Unknown): number => (u === common ? 0 : x[u]!);
      let k = 0;
      for (const { model, rails, drive } of amplifiers) {
        limited.set([0, 1, 0, 0]);
        if (rails) reach(model, x[drive]!, volts(rails[1]), volts(rails[0]), limited);
        const [, dz, dNegative, dPositive] = limited as unknown as [number, number, number, number];
        values[k++] = 1;
        values[k++] = 1;
        values[k++] = -model.inverseGain - (1 - dz);
        values[k++] = -model.inverseGbw;
        values[k++] = 1;
        values[k++] = -dz;
        values[k++] = -model.Rout;
        if (!rails) continue;
        // Rejection is a figure of changes: at the bias the supplies stand where the offset was specified.
        values[k++] = dPositive + model.inversePsrr;
        values[k++] = -dPositive;
        values[k++] = dNegative + model.inversePsrr;
        values[k++] = -dNegative;
      }
    },
  };
}

function term(kind: TermKind, ref: string, row: Pair, column: Pair): Term {
  return { kind, ref, row, column };
}
