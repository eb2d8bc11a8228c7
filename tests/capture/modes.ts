import { EigenvalueDecomposition, LU, Matrix } from 'ml-matrix';
import type { SmallSignal } from '@curvewright/network';

/** A linearised network as modes: each a state z' = pole·z + Σ drive·input, seen at the outputs with weights; complex numbers as re, im. */
export interface Modes {
  readonly list: readonly Mode[];
  /** From each input straight to each output. */
  readonly direct: readonly (readonly number[])[];
}

export interface Mode {
  readonly pole: readonly [number, number];
  /** `residue[input][output]`. */
  readonly residue: readonly (readonly (readonly [number, number])[])[];
}

/** rad/s about which the network is turned into its modes: in the middle of the audio band. */
const about = 2 * Math.PI * 300;
/** rad/s beyond which a mode follows at once, as far as 20 kHz is concerned. */
const atOnce = 2 * Math.PI * 20e6;

/**
 * With M = (G + s0·C)⁻¹C and its eigenvalues µ, (G + sC)⁻¹ = Σ v·w/(1 + (s − s0)µ)·(G + s0·C)⁻¹: poles at s0 − 1/µ. A way of its own: the engine
 * solves at each frequency, and never turns to modes for a response.
 */
export function modesOf({ size, conductance, capacitance, channels }: SmallSignal): Modes {
  const square = (data: Float64Array): Matrix => Matrix.from1DArray(size, size, [...data]);
  const shifted = new LU(Matrix.add(square(conductance), Matrix.mul(square(capacitance), about)));
  const {
    realEigenvalues: re,
    imaginaryEigenvalues: im,
    eigenvectorMatrix: V,
  } = new EigenvalueDecomposition(shifted.solve(square(capacitance)));
  const inputs = channels.map(({ drive }) => {
    const b = Matrix.zeros(size, 1);
    b.set(drive, 0, 1);
    return new LU(V).solve(shifted.solve(b)).to1DArray();
  });
  const direct = channels.map(() => channels.map(() => 0));
  const list: Mode[] = [];
  for (let k = 0; k < size; k++) {
    const paired = im[k]! !== 0;
    if (paired && im[k]! < 0) continue;
    // A complex pair's eigenvector is column k + j·column (k + 1), and only the one of the pair is kept, twice its real part counting.
    const residue = channels.map((_, input) =>
      channels.map(({ output }): readonly [number, number] => {
        const [c, d] = [V.get(output, k), paired ? V.get(output, k + 1) : 0];
        const [a, b] = [inputs[input]![k]!, paired ? inputs[input]![k + 1]! : 0];
        // For x = V·y with real y the pair adds c·a + d·b; as one complex mode: (c + jd)(a − jb), half of which each of the pair carries.
        return paired ? [c * a + d * b, d * a - c * b] : [c * a, 0];
      }),
    );
    const power = re[k]! ** 2 + im[k]! ** 2;
    const pole: readonly [number, number] = power === 0 ? [-Infinity, 0] : [about - re[k]! / power, im[k]! / power];
    if (Math.hypot(...pole) > atOnce) {
      residue.forEach((row, i) => row.forEach(([real], o) => (direct[i]![o] = direct[i]![o]! + real)));
      continue;
    }
    // v·w/(1 + (s − s0)µ) = (v·w/µ)/(s − pole).
    list.push({
      pole,
      residue: residue.map((row) =>
        row.map(([a, b]) => [(a * re[k]! + b * im[k]!) / power, (b * re[k]! - a * im[k]!) / power] as const),
      ),
    });
  }
  return { list, direct };
}

/** The gain at a frequency, to hold the modes themselves against the engine. */
export function modeGain({ list, direct }: Modes, input: number, output: number, hz: number): number {
  let [re, im] = [direct[input]![output]!, 0];
  const w = 2 * Math.PI * hz;
  const addOver = ([a, b]: readonly [number, number], [p, q]: readonly [number, number], share: number): void => {
    const [x, y] = [-p, w - q];
    const power = x * x + y * y;
    re += (share * (a * x + b * y)) / power;
    im += (share * (b * x - a * y)) / power;
  };
  for (const { pole, residue } of list) {
    const own = residue[input]![output]!;
    if (pole[1] === 0) addOver(own, pole, 1);
    else {
      addOver(own, pole, 0.5);
      addOver([own[0], -own[1]], [pole[0], -pole[1]], 0.5);
    }
  }
  return Math.hypot(re, im);
}
