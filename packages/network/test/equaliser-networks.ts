import type { Part } from '@curvewright/board';
import { riaaTimes } from '../../curves/src/index.ts';
import { capacitor, resistor } from './circuits.ts';

export interface EqualiserValues {
  readonly R1: number;
  readonly R2: number;
  readonly C1: number;
  readonly C2: number;
}

const { T1, T2, T3 } = riaaTimes;

/** Exact values of the four equaliser networks with R0 Ω at DC, from matching their impedance to R0(1 + sT2)/((1 + sT1)(1 + sT3)). */
export function exactValues(R0: number): readonly EqualiserValues[] {
  return [splitFractions(R0), parallelOverSeries(R0), threeArms(R0), seriesOverParallel(R0)];
}

/** (R1∥C1) + (R2∥C2): the partial fractions of the impedance. */
function splitFractions(R0: number): EqualiserValues {
  const R1 = (R0 * (T1 - T2)) / (T1 - T3);
  const R2 = (R0 * (T2 - T3)) / (T1 - T3);
  return { R1, R2, C1: T1 / R1, C2: T3 / R2 };
}

/** C2 ∥ [R2 + (R1∥C1)]: C2 is the admittance at infinity, and R0(1 + sT2)/(1 + sτ) is left. */
function parallelOverSeries(R0: number): EqualiserValues {
  const C2 = (T1 * T3) / (R0 * T2);
  const tau = T1 + T3 - R0 * C2;
  const R2 = (R0 * T2) / tau;
  const R1 = R0 - R2;
  return { R1, R2, C1: tau / R1, C2 };
}

/** R1 ∥ C2 ∥ (R2 + C1): the partial fractions of the admittance. */
function threeArms(R0: number): EqualiserValues {
  const C2 = (T1 * T3) / (R0 * T2);
  const C1 = (T1 + T3 - T2) / R0 - C2;
  return { R1: R0, R2: T2 / C1, C1, C2 };
}

/** R1 ∥ [C1 + (R2∥C2)]: what is left of the admittance at DC and at infinity once R1 is taken out. */
function seriesOverParallel(R0: number): EqualiserValues {
  const C1 = (T1 + T3 - T2) / R0;
  const tau = (T1 * T3) / (R0 * C1);
  const R2 = (T2 - tau) / C1;
  return { R1: R0, R2, C1, C2: tau / R2 };
}

/** The networks as parts between two nodes, in the order of `exactValues`. */
export const arrangements: readonly ((v: EqualiserValues, a: string, b: string) => Part[])[] = [
  (v, a, b) => [
    resistor('R1', v.R1, a, 'inner'),
    capacitor('C1', v.C1, a, 'inner'),
    resistor('R2', v.R2, 'inner', b),
    capacitor('C2', v.C2, 'inner', b),
  ],
  (v, a, b) => [
    capacitor('C2', v.C2, a, b),
    resistor('R2', v.R2, a, 'inner'),
    resistor('R1', v.R1, 'inner', b),
    capacitor('C1', v.C1, 'inner', b),
  ],
  (v, a, b) => [
    resistor('R1', v.R1, a, b),
    capacitor('C2', v.C2, a, b),
    resistor('R2', v.R2, a, 'inner'),
    capacitor('C1', v.C1, 'inner', b),
  ],
  (v, a, b) => [
    resistor('R1', v.R1, a, b),
    capacitor('C1', v.C1, a, 'inner'),
    resistor('R2', v.R2, 'inner', b),
    capacitor('C2', v.C2, 'inner', b),
  ],
];
