import { realLu, type Fourier, type RealLu } from '@curvewright/solver';
import type { HarmonicTransfers } from './harmonic-transfers.ts';

/** What one nonlinear part brings: where its controls and ports begin among all, and its current slopes (samples × ports × controls). */
export interface SlopeWindow {
  readonly control: number;
  readonly controls: number;
  readonly port: number;
  readonly ports: number;
  readonly currentSlopes: Float64Array;
}

/**
 * The samples in which a part is bent far off its line (cut off, saturated, at a limit), solved directly: with S those samples' slopes and
 * T the network's transfers, (1 − TS)⁻¹ = 1 + T(1 − ST)⁻¹S needs a system of only as many unknowns as there are such samples. What the
 * others bend is left to the iteration that this preconditions.
 */
export interface BentSamples {
  /** How many were chosen last. */
  count(): number;
  /** Chooses the samples for the slopes as they stand and factors; these slopes stay until it is called again. */
  prepare(): void;
  /** Writes into `bent` (ports × samples) what the chosen samples bring when the controls' samples, without it, are `swings`. */
  solve(swings: Float64Array, bent: Float64Array): void;
}

/** A sample is chosen where its bend, sent once around through the network, comes back with more than this. */
const strongFrom = 0.5;

/** Room for so many more samples is made at a time; what is not filled is a unit matrix. */
const sizeStride = 32;

export function bentSamples(
  windows: readonly SlopeWindow[],
  transfers: HarmonicTransfers,
  transform: Fourier,
  weights: Float64Array,
  most: number,
): BentSamples {
  const { samples, harmonics, signals } = transform;
  const controlCount = windows.reduce((sum, { controls }) => sum + controls, 0);
  const portCount = windows.reduce((sum, { ports }) => sum + ports, 0);
  /** What a port's unit sample does to a control so many samples later: controls × ports × samples. */
  const echoes = new Float64Array(controlCount * portCount * samples);
  /** The largest magnitude of each transfer over the harmonics: controls × ports. */
  const strongest = new Float64Array(controlCount * portCount);
  for (let k = 0; k < harmonics; k++) {
    const byPorts = transfers.controlsByPorts(k);
    for (let pair = 0; pair < strongest.length; pair++) {
      strongest[pair] = Math.max(strongest[pair]!, Math.hypot(byPorts[2 * pair]!, byPorts[2 * pair + 1]!));
    }
  }
  let echoesKnown = false;

  function computeEchoes(): void {
    const row = new Float64Array(2 * harmonics);
    const idle = new Float64Array(2 * harmonics);
    for (let pair = 0; pair < strongest.length; pair++) {
      for (let k = 0; k < harmonics; k++) {
        const byPorts = transfers.controlsByPorts(k);
        const weight = ((k === 0 ? 1 : 2) * weights[k]!) / samples;
        row[2 * k] = weight * byPorts[2 * pair]!;
        row[2 * k + 1] = weight * byPorts[2 * pair + 1]!;
      }
      transform.synthesise(row, 0, idle, 0);
      for (let n = 0; n < samples; n++) echoes[pair * samples + n] = signals[2 * n]!;
    }
    echoesKnown = true;
  }

  const room = Math.min(most, portCount * samples);
  /** Factors of every size that is a multiple of the stride, made when first asked for. */
  const factors = new Map<number, RealLu>();
  let lu = factorsFor(0);
  let right = new Float64Array(lu.size);
  /** Of each chosen sample: its part, its port within the part, its place in time. */
  const partOf = new Int32Array(room);
  const portOf = new Int32Array(room);
  const timeOf = new Int32Array(room);
  /** Its slopes, in the order of the part's controls. */
  const widest = Math.max(0, ...windows.map(({ controls }) => controls));
  const slopesOf = new Float64Array(room * widest);
  let count = 0;

  /** How much of a sample's bend comes back to it through the network. */
  function strength({ control, controls, port, ports, currentSlopes }: SlopeWindow, p: number, n: number): number {
    let sum = 0;
    for (let c = 0; c < controls; c++) {
      sum +=
        Math.abs(currentSlopes[(n * ports + p) * controls + c]!) * strongest[(control + c) * portCount + port + p]!;
    }
    return sum;
  }

  function factorsFor(unknowns: number): RealLu {
    const size = Math.min(room, sizeStride * Math.max(1, Math.ceil(unknowns / sizeStride)));
    const known = factors.get(size) ?? realLu(size);
    factors.set(size, known);
    return known;
  }

  function choose(): void {
    count = 0;
    for (let threshold = strongFrom; ; threshold *= 4) {
      count = 0;
      let fits = true;
      for (let w = 0; w < windows.length && fits; w++) {
        for (let p = 0; p < windows[w]!.ports && fits; p++) {
          for (let n = 0; n < samples && fits; n++) {
            if (strength(windows[w]!, p, n) <= threshold) continue;
            fits = count < room;
            if (!fits) break;
            partOf[count] = w;
            portOf[count] = p;
            timeOf[count] = n;
            count++;
          }
        }
      }
      if (fits) return;
    }
  }

  function keepSlopes(i: number): void {
    const { controls, ports, currentSlopes } = windows[partOf[i]!]!;
    const from = (timeOf[i]! * ports + portOf[i]!) * controls;
    for (let c = 0; c < controls; c++) slopesOf[i * widest + c] = currentSlopes[from + c]!;
  }

  return {
    count: () => count,
    prepare() {
      choose();
      if (count === 0) return;
      if (!echoesKnown) computeEchoes();
      lu = factorsFor(count);
      const { size, matrix } = lu;
      right = right.length === size ? right : new Float64Array(size);
      matrix.fill(0);
      for (let i = 0; i < size; i++) matrix[i * size + i] = 1;
      for (let i = 0; i < count; i++) {
        keepSlopes(i);
        const { control, controls } = windows[partOf[i]!]!;
        for (let j = 0; j < count; j++) {
          const source = windows[partOf[j]!]!.port + portOf[j]!;
          const later = (timeOf[i]! - timeOf[j]! + samples) % samples;
          let sum = 0;
          for (let c = 0; c < controls; c++) {
            sum += slopesOf[i * widest + c]! * echoes[((control + c) * portCount + source) * samples + later]!;
          }
          matrix[i * size + j] = matrix[i * size + j]! - sum;
        }
      }
      if (lu.factor() >= 0) count = 0;
    },
    solve(swings, bent) {
      right.fill(0);
      for (let i = 0; i < count; i++) {
        const { control, controls } = windows[partOf[i]!]!;
        for (let c = 0; c < controls; c++) {
          right[i] = right[i]! + slopesOf[i * widest + c]! * swings[(control + c) * samples + timeOf[i]!]!;
        }
      }
      lu.solve(right);
      bent.fill(0);
      for (let i = 0; i < count; i++) {
        bent[(windows[partOf[i]!]!.port + portOf[i]!) * samples + timeOf[i]!] = right[i]!;
      }
    },
  };
}
