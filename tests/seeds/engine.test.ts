import { circuitWithValue, type Circuit } from '@curvewright/board';
import { compileNetwork, createLiveBoard, linearise, solveBias, solveResponse } from '@curvewright/network';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { seedBoard, seedNames } from './read-seeds.ts';

const frequencies = Float64Array.from({ length: 200 }, (_, k) => 2 * 10 ** ((4.7 * k) / 199));

function solved(circuit: Circuit) {
  const network = compileNetwork(circuit);
  const bias = solveBias(network);
  if (!bias.ok) throw new Error(bias.diagnostic.message);
  return { network, point: bias.point, small: linearise(network, bias.point) };
}

/** The same circuit with every value up to 4 % off, another pattern for each board. */
function varied(circuit: Circuit, board: number): Circuit {
  return circuit.parts.reduce((whole, part, k) => {
    const factor = 1 + 0.04 * Math.sin(1 + 7 * k + 13 * board);
    if (part.kind === 'resistor') return circuitWithValue(whole, part.ref, part.ohms * factor);
    return part.kind === 'capacitor' ? circuitWithValue(whole, part.ref, part.farads * factor) : whole;
  }, circuit);
}

/** Largest difference between two runs of re, im pairs, over the larger of the second and the 1 V that drives it. */
function worstGap(found: ArrayLike<number>, expected: ArrayLike<number>): number {
  let worst = 0;
  for (let k = 0; k < found.length; k += 2) {
    const gap = Math.hypot(found[k]! - expected[k]!, found[k + 1]! - expected[k + 1]!);
    worst = Math.max(worst, gap / Math.max(1, Math.hypot(expected[k]!, expected[k + 1]!)));
  }
  return worst;
}

describe('the fast engine and the reference on the demo boards', () => {
  it.each(seedNames)('%s: ten boards of other values, 200 frequencies, every channel', (name) => {
    const { circuit } = seedBoard(name);
    const { network, point } = solved(circuit);
    const live = createLiveBoard(network, point, frequencies);
    if (!live) throw new Error('singular');
    let worst = 0;
    for (let board = 0; board < 10; board++) {
      const other = varied(circuit, board);
      const values = new Map(
        other.parts.map((part) => [part.ref, part.kind === 'resistor' ? part.ohms : part.kind === 'capacitor' ? part.farads : 0]),
      );
      const written = live.parameters.map(({ ref, parameter, nominal }) => (parameter === 'value' ? (values.get(ref) ?? 0) || nominal : nominal));
      expect(live.solve(Float64Array.from(written), board)).toBe(true);
      const reference = solveResponse(solved(other).small, frequencies);
      live.gains.forEach((gain, channel) => {
        worst = Math.max(worst, worstGap(gain, reference.gains[channel]![channel]!));
      });
    }
    console.log(`${name}: largest relative difference ${worst.toExponential(1)}, ${live.resolved} frequencies solved with row exchanges`);
    // Both end their search for the bias within 1e-12 A; at the boards' highest impedances that is some 1e-8 V, 1e-7 of a slope.
    expect(worst).toBeLessThan(1e-7);
    expect(live.resolved).toBe(0);
  });

  it.each(seedNames)('%s: ml-matrix on the real form of twice the size agrees', (name) => {
    const { network, point, small } = solved(seedBoard(name).circuit);
    const live = createLiveBoard(network, point, frequencies)!;
    live.solve(Float64Array.from(live.parameters, ({ nominal }) => nominal));
    const { size, conductance, capacitance, loss, channels } = small;
    let worst = 0;
    for (let n = 0; n < frequencies.length; n += 20) {
      const omega = 2 * Math.PI * frequencies[n]!;
      const matrix = Matrix.zeros(2 * size, 2 * size);
      conductance.forEach((g, k) => {
        const [i, j] = [Math.floor(k / size), k % size];
        const [re, im] = [g + omega * loss[k]!, omega * capacitance[k]!];
        matrix.set(i, j, re);
        matrix.set(i + size, j + size, re);
        matrix.set(i, j + size, -im);
        matrix.set(i + size, j, im);
      });
      channels.forEach(({ drive, output }, channel) => {
        const side = Matrix.zeros(2 * size, 1);
        side.set(drive, 0, 1);
        const x = solve(matrix, side);
        const own = live.gains[channel]!.subarray(2 * n, 2 * n + 2);
        worst = Math.max(worst, worstGap(own, [x.get(output, 0), x.get(output + size, 0)]));
      });
    }
    console.log(`${name}: largest difference from ml-matrix ${worst.toExponential(1)}`);
    // What the engine is held to; two backward-stable solvers differ by the condition, 1e4 to 1e6 here, times eps.
    expect(worst).toBeLessThan(1e-9);
  });
});
