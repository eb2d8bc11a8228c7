import { agePart, type Circuit, type Fault, type FaultKind, type Part } from '@curvewright/board';
import { placeToken, type Hypothesis, type Run } from './hypothesis.ts';
import { priorOf, type Priors } from './priors.ts';

/** Grids of values a fault is tried at, from one to the next by at most a factor of two where readings follow closely. */
export const grids = {
  driftUp: [1.2, 1.35, 1.5, 1.75, 2, 2.5, 3, 4, 6, 10, 18, 30],
  driftDown: [0.1, 0.18, 0.3, 0.42, 0.55, 0.68, 0.8],
  left: [0.01, 0.02, 0.04, 0.07, 0.12, 0.2, 0.3, 0.42, 0.55, 0.7],
  driedOhms: [0, 30, 150, 600],
  leakage: [500, 1e3, 2e3, 4e3, 8e3, 16e3, 32e3, 64e3, 125e3, 250e3, 500e3, 1e6, 2e6, 4e6, 8e6],
  contact: [10, 30, 100, 300, 1e3, 3e3, 10e3, 30e3, 100e3],
  leadContact: [100, 300, 1e3, 3e3, 10e3, 30e3, 100e3],
  ICBO: [0.1e-6, 0.2e-6, 0.4e-6, 0.8e-6, 1.6e-6, 3.2e-6, 6.4e-6, 13e-6, 25e-6, 50e-6, 100e-6],
  corner: [3e3, 10e3, 30e3, 100e3],
  lowGain: [0.03, 0.05, 0.08, 0.13, 0.2, 0.32, 0.5, 0.75],
  highGain: [1.3, 1.7, 2.2, 3, 4],
  weak: [0.1, 0.2, 0.35, 0.5, 0.65],
  forward: [0.45, 0.5, 0.55, 0.65, 0.75, 0.85, 1.2, 1.5, 2],
  decades: [0.01, 0.1, 10, 100],
} as const;

/** What hypotheses of one part are made from. */
export interface Maker {
  readonly circuit: Circuit;
  readonly part: Part;
  readonly priors: Priors;
}

export function replaced(circuit: Circuit, ref: string, change: (part: Part) => Part): Circuit {
  return { ...circuit, parts: circuit.parts.map((each) => (each.ref === ref ? change(each) : each)) };
}

export function aged(ref: string, values: readonly number[], faultAt: (value: number) => Fault): Run {
  return { values, apply: (circuit, value) => agePart(circuit, ref, faultAt(value ?? NaN)) };
}

export function sure(maker: Maker, kind: FaultKind, words: string, detail: string, fault: Fault): Hypothesis {
  const { ref } = maker.part;
  return made(maker, kind, words, detail, null, [{ values: [null], apply: (circuit) => agePart(circuit, ref, fault) }]);
}

export function fitted(
  maker: Maker,
  kind: FaultKind,
  words: string,
  detail: string,
  unit: Hypothesis['unit'],
  values: readonly number[],
  faultAt: (value: number) => Fault,
): Hypothesis {
  return made(maker, kind, words, detail, unit, values.length === 0 ? [] : [aged(maker.part.ref, values, faultAt)]);
}

/** The same without a unit. */
export function plain(
  maker: Maker,
  kind: FaultKind,
  words: string,
  values: readonly number[],
  faultAt: (value: number) => Fault,
): Hypothesis {
  return fitted(maker, kind, words, '', null, values, faultAt);
}

export function made(
  { circuit, part, priors }: Maker,
  kind: FaultKind,
  words: string,
  detail: string,
  unit: Hypothesis['unit'],
  runs: Hypothesis['runs'],
): Hypothesis {
  return {
    refs: [part.ref],
    kind,
    words,
    unit,
    weight: priorOf(priors, kind, part),
    runs,
    signature: `${kind} ${words} ${detail} ${placeToken(circuit, part)}`,
  };
}
