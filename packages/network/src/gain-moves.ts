import type { OperatingPoint } from './bias.ts';
import { bentDevices, writeProducts, type BentDevice } from './bent-devices.ts';
import { common, type Unknown } from './elements.ts';
import type { SmallSignal } from './linearise.ts';
import type { LooseElement } from './loose-values.ts';
import type { Network } from './network.ts';
import { frequencySolver } from './response.ts';

/** Gains, and their first-order moves for a change of 1 in the natural logarithm of each value. */
export interface GainMoves {
  /** dB from each channel's input to its output: entry channel · frequencies + frequency. −Infinity where nothing arrives, NaN where singular. */
  readonly gains: Float64Array;
  /** `gainMoves[(channel * frequencies + frequency) * values + value]`, dB; 0 where nothing arrives; empty where they are not asked for. */
  readonly gainMoves: Float64Array;
}

const perNeper = 20 / Math.LN10;

/**
 * Adjoints as in `gainSensitivities`: Aᵀ y = (output − H · input)/x(input), dH = −yᵀ dA x (Director & Rohrer, IEEE Trans. Circuit Theory CT-16,
 * 1969). `moves`: dx of the bias for each value.
 */
export function gainMoves(
  network: Network,
  point: OperatingPoint,
  small: SmallSignal,
  { frequencies, withMoves }: { readonly frequencies: Float64Array; readonly withMoves: boolean },
  elements: readonly LooseElement[],
  moves: readonly Float64Array[],
): GainMoves {
  const { size, channels } = small;
  const rows = channels.length * frequencies.length;
  const gains = new Float64Array(rows);
  const all = new Float64Array(withMoves ? rows * elements.length : 0);
  if (rows === 0) return { gains, gainMoves: all };
  const place = (unknown: Unknown): number => 2 * (unknown === common ? size : unknown);
  const bent = withMoves ? bentDevices(network, point, elements, moves, place) : [];
  const straight = straightTerms(elements, place);
  const solver = frequencySolver(small);
  // One pair more than unknowns, which stays 0: gnd.
  const x = new Float64Array(2 * size + 2);
  const y = new Float64Array(2 * size + 2);
  const [forward, adjoint] = [x.subarray(0, 2 * size), y.subarray(0, 2 * size)];
  const moved = new Float64Array(2 * elements.length);

  for (let n = 0; n < frequencies.length; n++) {
    const omega = 2 * Math.PI * frequencies[n]!;
    const solvable = solver.setFrequency(frequencies[n]!);
    for (let c = 0; c < channels.length; c++) {
      const { drive, input, output } = channels[c]!;
      const row = c * frequencies.length + n;
      if (!solvable) {
        gains[row] = NaN;
        continue;
      }
      forward.fill(0);
      forward[2 * drive] = 1;
      solver.solve(forward);
      const over = place(output);
      const under = place(input);
      const ur = x[under]!;
      const ui = x[under + 1]!;
      const norm = ur * ur + ui * ui;
      const hr = (x[over]! * ur + x[over + 1]! * ui) / norm;
      const hi = (x[over + 1]! * ur - x[over]! * ui) / norm;
      const power = hr * hr + hi * hi;
      gains[row] = (perNeper / 2) * Math.log(power);
      if (!(power > 0) || !withMoves) continue;
      y.fill(0);
      const ir = ur / norm;
      const ii = -ui / norm;
      y[over] = ir;
      y[over + 1] = ii;
      y[under] = y[under]! - (hr * ir - hi * ii);
      y[under + 1] = y[under + 1]! - (hr * ii + hi * ir);
      y.fill(0, 2 * size);
      solver.solveTransposed(adjoint);
      moved.fill(0);
      addStraight(straight, x, y, omega, moved);
      for (const device of bent) addBent(device, x, y, moved);
      for (let v = 0; v < elements.length; v++) {
        // d(20 lg|H|) = 20/ln 10 · Re(dH/H)
        all[row * elements.length + v] = (-perNeper * (hr * moved[2 * v]! + hi * moved[2 * v + 1]!)) / power;
      }
    }
  }
  return { gains, gainMoves: all };
}

/** Two-lead parts in flat storage: the value each belongs to, its ends, and what A(ω) gains for a change of 1 in the value's logarithm. */
interface StraightTerms {
  readonly value: Int32Array;
  readonly ends: Int32Array;
  /** S, F, F·tan δ. */
  readonly siemens: Float64Array;
  readonly farads: Float64Array;
  readonly loss: Float64Array;
}

function straightTerms(elements: readonly LooseElement[], place: (unknown: Unknown) => number): StraightTerms {
  const terms = elements.flatMap((element, value) => {
    if (element.kind === 'resistance')
      return element.conductances.map(({ a, b, siemens }) => ({ value, a, b, siemens: -siemens, farads: 0, loss: 0 }));
    if (element.kind === 'capacitance')
      return element.capacitances.map(({ a, b, farads, loss }) => ({
        value,
        a,
        b,
        siemens: 0,
        farads,
        loss: farads * loss,
      }));
    return [];
  });
  return {
    value: Int32Array.from(terms, ({ value }) => value),
    ends: Int32Array.from(terms.flatMap(({ a, b }) => [place(a), place(b)])),
    siemens: Float64Array.from(terms, ({ siemens }) => siemens),
    farads: Float64Array.from(terms, ({ farads }) => farads),
    loss: Float64Array.from(terms, ({ loss }) => loss),
  };
}

/** moved[value] += yᵀ dA x. */
function addStraight(
  { value, ends, siemens, farads, loss }: StraightTerms,
  x: Float64Array,
  y: Float64Array,
  omega: number,
  moved: Float64Array,
): void {
  for (let t = 0; t < value.length; t++) {
    const a = ends[2 * t]!;
    const b = ends[2 * t + 1]!;
    const yr = y[a]! - y[b]!;
    const yi = y[a + 1]! - y[b + 1]!;
    const xr = x[a]! - x[b]!;
    const xi = x[a + 1]! - x[b + 1]!;
    const re = yr * xr - yi * xi;
    const im = yr * xi + yi * xr;
    const wr = siemens[t]! + omega * loss[t]!;
    const wi = omega * farads[t]!;
    const v = 2 * value[t]!;
    moved[v] = moved[v]! + wr * re - wi * im;
    moved[v + 1] = moved[v + 1]! + wr * im + wi * re;
  }
}

function addBent(device: BentDevice, x: Float64Array, y: Float64Array, moved: Float64Array): void {
  writeProducts(device, x, y);
  const { products, byControl, ofControl, volts, own } = device;
  const width = byControl.length;
  for (let k = 0; k < width; k++) addWeighted(byControl[k]!, products, ofControl, 2 * k, true);
  for (let v = 0; 2 * v < moved.length; v++) {
    for (let k = 0; k < width; k++) {
      const share = volts[v * width + k]!;
      moved[2 * v] = moved[2 * v]! + share * ofControl[2 * k]!;
      moved[2 * v + 1] = moved[2 * v + 1]! + share * ofControl[2 * k + 1]!;
    }
  }
  for (const { value, slopes } of own) addWeighted(slopes, products, moved, 2 * value, false);
}

/** target[at] (+)= Σ weight · product, re im pairs. */
function addWeighted(
  weights: Float64Array,
  products: Float64Array,
  target: Float64Array,
  at: number,
  anew: boolean,
): void {
  let re = anew ? 0 : target[at]!;
  let im = anew ? 0 : target[at + 1]!;
  for (let n = 0; n < weights.length; n++) {
    re += weights[n]! * products[2 * n]!;
    im += weights[n]! * products[2 * n + 1]!;
  }
  target[at] = re;
  target[at + 1] = im;
}
