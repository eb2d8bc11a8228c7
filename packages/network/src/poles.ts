import type { OperatingPoint } from './bias.ts';
import { unknownOf, type Network } from './network.ts';
import { eigenpairRefiner, quotient, type Eigenpair } from './eigenpair.ts';
import { finiteSpectrum, modulus, type Eigenvalue } from './pencil-eigenvalues.ts';
import { quotientOfTerms, sensitivitiesOf, termShares } from './pole-terms.ts';
import { stateBasis, type Pencil, type StateBasis } from './state-basis.ts';

/** One natural frequency of the network: a pole, or a zero of a channel's gain. */
export interface Root {
  /** 1/s. */
  readonly re: number;
  readonly im: number;
  /** What the equations leave over with it, as the most by which that could move it, relative. Infinite for a double root that has but one vector. */
  readonly residual: number;
}

/** A pole with what moves it. */
export interface Pole extends Root {
  /**
   * By designator: d ln s / d ln p with p the part's value (Ω, F, H), the GBW of an op-amp, and how many of it stand side by side for a
   * transistor, a valve or a diode. ESR, leakage and loss stay as they are.
   */
  readonly sensitivities: ReadonlyMap<string, Eigenvalue>;
}

export interface NaturalModes {
  /** All finite poles, fastest first; of a pair the one with positive imaginary part first. */
  readonly poles: readonly Pole[];
  /** Per channel, from its generator to its output node: what no signal of this complex frequency passes. */
  readonly zeros: readonly { readonly channel: string; readonly zeros: readonly Root[] }[];
  /** Rank of C; the poles are as many, less those that sources and ideal amplifiers hold. */
  readonly rank: number;
  /** |Σ s − trace| over Σ |s|, and the same of 1/s: what a pole lost or counted twice would show. */
  readonly sumError: number;
  readonly reciprocalSumError: number;
  /** |Σ ln |s| − ln of the ratio of determinants|. */
  readonly logProductError: number;
}

/** Poles closer than this, relative, are told apart by their vectors. */
const close = 1e-4;

/**
 * Poles and zeros of the network linearised at its bias, all channels together. Loss factors have to be in series form. Null where the network
 * is singular at every frequency.
 */
export function naturalModes(network: Network, point: OperatingPoint): NaturalModes | null {
  const basis = stateBasis(network, point);
  const spectrum = finiteSpectrum(basis);
  if (spectrum === null) return null;
  const parts = new Map(network.circuit.parts.map((part) => [part.ref, part]));
  const pairs = refined(basis, spectrum.values);
  if (pairs === null) return null;
  const poles = pairs.flatMap((pair): readonly Pole[] => {
    const shares = termShares(basis, pair);
    const s = quotientOfTerms(pair, shares);
    const { residual } = pair;
    const sensitivities = sensitivitiesOf(shares, parts, { ...pair, s });
    const upper: Pole = { ...s, residual, sensitivities };
    return s.im === 0 ? [upper] : [upper, conjugate(upper)];
  });
  const reciprocals = poles
    .filter((pole) => modulus(pole) > 0)
    .map(({ re, im }) => quotient({ re: 1, im: 0 }, { re, im }));
  return {
    poles,
    zeros: network.circuit.channels.map(({ name }, channel) => ({
      channel: name,
      zeros: zerosOf(network, basis, channel),
    })),
    rank: basis.states,
    sumError: sumError(poles, spectrum.sum),
    reciprocalSumError: sumError(reciprocals, spectrum.reciprocalSum),
    logProductError: Math.abs(
      reciprocals.reduce((sum, value) => sum - Math.log(modulus(value)), 0) - spectrum.logProduct,
    ),
  };
}

function sumError(values: readonly Eigenvalue[], trace: number): number {
  const sum = values.reduce((total, { re }) => total + re, 0);
  const whole = values.reduce((total, value) => total + modulus(value), 0);
  return whole === 0 ? 0 : Math.abs(sum - trace) / whole;
}

function conjugate(pole: Pole): Pole {
  const sensitivities = new Map([...pole.sensitivities].map(([ref, { re, im }]) => [ref, { re, im: -im }]));
  return { ...pole, im: -pole.im, sensitivities };
}

/** Real ones and the upper one of every pair; null where the pencil turns out singular. */
function refined(pencil: Pencil, values: readonly Eigenvalue[]): readonly Eigenpair[] | null {
  const refiner = eigenpairRefiner(pencil);
  const found: Eigenpair[] = [];
  for (const start of values) {
    if (start.im < 0) continue;
    const near = found.filter(({ s }) => Math.hypot(s.re - start.re, s.im - start.im) <= close * modulus(start));
    const pair = refiner.refine(start, near);
    if (pair === null) return null;
    found.push(pair);
  }
  return found;
}

/** None where nothing passes from the generator to the output at any frequency. */
function zerosOf(network: Network, basis: StateBasis, channel: number): readonly Root[] {
  const pencil = zeroPencil(network, basis, channel);
  const spectrum = pencil === null ? null : finiteSpectrum(pencil);
  if (pencil === null || spectrum === null) return [];
  const origin = Array.from({ length: spectrum.atOrigin }, (): Root => ({ re: 0, im: 0, residual: 0 }));
  const elsewhere = spectrum.values.slice(0, spectrum.values.length - spectrum.atOrigin);
  const roots = refined(pencil, elsewhere)?.flatMap(({ s: { re, im }, residual }): readonly Root[] =>
    im === 0
      ? [{ re, im, residual }]
      : [
          { re, im, residual },
          { re, im: -im, residual },
        ],
  );
  return roots === undefined ? [] : [...roots, ...origin];
}

/** The pencil bordered by generator and output: the generator's row gives way to the demand that the output stay at 0 V. */
function zeroPencil(network: Network, basis: StateBasis, channel: number): Pencil | null {
  const { size } = basis;
  const output = unknownOf(network, network.circuit.channels[channel]!.output);
  if (output < 0) return null;
  const row = network.inputs[channel]!.current;
  const conductance = basis.conductance.slice();
  const capacitance = basis.capacitance.slice();
  conductance.fill(0, row * size, (row + 1) * size);
  capacitance.fill(0, row * size, (row + 1) * size);
  for (const { at, factor } of basis.difference([output, -1])) conductance[row * size + at] = factor;
  return { size, conductance, capacitance };
}
