import { circuitWithValue, type Circuit } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import {
  compileNetwork,
  createLiveBoard,
  linearise,
  solveBias,
  solveResponse,
  type LiveBoard,
  type LiveParameter,
} from '../src/index.ts';
import { capacitor, circuit, inductor, rail, resistor } from './circuits.ts';
import { drawsFrom, type Draws } from './random.ts';
import { randomMixture } from './random-networks.ts';
import { randomStage } from './random-stages.ts';
import { biased } from './solved.ts';

const seed = 20261125;
const frequencies = Float64Array.from({ length: 21 }, (_, k) => 2 * 10 ** (0.235 * k));

/** The circuit with the values written into its parts, for the solver that starts from nothing. */
function written(original: Circuit, parameters: readonly LiveParameter[], values: Float64Array): Circuit {
  return parameters.reduce((whole, { ref, parameter }, k): Circuit => {
    if (parameter === 'value') return circuitWithValue(whole, ref, values[k]!);
    return {
      ...whole,
      parts: whole.parts.map((part) => {
        if (part.ref !== ref || part.kind !== 'typed') return part;
        if (part.type.kind !== 'npn' && part.type.kind !== 'pnp') return part;
        const hFE = part.type.hFE.map(({ value, at }) => ({ value: value * values[k]!, at }));
        return { ...part, type: { ...part.type, hFE } };
      }),
    };
  }, original);
}

function drawn(live: LiveBoard, draws: Draws, spread: number): Float64Array {
  return Float64Array.from(live.parameters, ({ nominal }) => nominal * draws.log(1 / spread, spread));
}

/** Largest difference of any gain over the larger of it and the 1 V that drives it, against the dense reference. */
function worstGap(original: Circuit, live: LiveBoard, values: Float64Array): number {
  const { network, point } = biased(written(original, live.parameters.slice(0, values.length), values));
  const reference = solveResponse(linearise(network, point), frequencies);
  let worst = 0;
  live.gains.forEach((own, channel) => {
    const expected = reference.gains[channel]![channel]!;
    for (let k = 0; k < own.length; k += 2) {
      const size = Math.max(1, Math.hypot(expected[k]!, expected[k + 1]!));
      worst = Math.max(worst, Math.hypot(own[k]! - expected[k]!, own[k + 1]! - expected[k + 1]!) / size);
    }
  });
  return worst;
}

describe('a live board against the network compiled and solved anew', () => {
  it('agrees on 400 random stages with every value and gain drawn anew', { timeout: 60_000 }, () => {
    let worst = 0;
    let resolved = 0;
    let unbiased = 0;
    for (let n = 0; n < 400; n++) {
      const draws = drawsFrom(seed + n);
      const { circuit: stage } = randomStage(draws);
      const { network, point } = biased(stage);
      const live = createLiveBoard(network, point, frequencies)!;
      const values = drawn(live, draws, 1.2);
      if (!live.solve(values)) {
        unbiased++;
        continue;
      }
      worst = Math.max(worst, worstGap(stage, live, values));
      resolved += live.resolved;
    }
    console.log(
      `400 random stages written anew: worst difference ${worst.toExponential(1)}, ${resolved} of 8,400 frequencies solved with row exchanges, ${unbiased} without a bias`,
    );
    // Newton stops at 1e-12 A of current; at the highest impedances here (MΩ) that is a few µV of bias, 1e-7 of a gain.
    expect(worst).toBeLessThan(1e-6);
    expect(unbiased).toBe(0);
  });

  it('agrees on 1,000 random networks at their own values', { timeout: 60_000 }, () => {
    let worst = 0;
    let resolved = 0;
    let unplanned = 0;
    for (let n = 0; n < 1000; n++) {
      const stage = randomMixture(drawsFrom(seed + n));
      const { network, point } = biased(stage);
      const live = createLiveBoard(network, point, frequencies);
      if (!live) {
        unplanned++;
        continue;
      }
      const values = Float64Array.from(live.parameters, ({ nominal }) => nominal);
      expect(live.solve(values), `network ${n}`).toBe(true);
      worst = Math.max(worst, worstGap(stage, live, values));
      resolved += live.resolved;
    }
    console.log(
      `1,000 random networks: worst difference ${worst.toExponential(1)}, ${resolved} of 21,000 frequencies solved with row exchanges, ${unplanned} without a plan`,
    );
    // Conditions of these tangles reach 1e11 and cost the same digits in both solvers (see reference-solver.test.ts).
    expect(worst).toBeLessThan(1e-5);
    expect(unplanned).toBe(0);
  });

  it('writes inductors and both halves of a trimmer', () => {
    const stage = circuit(
      [rail('vcc', 0)],
      [
        inductor('L1', 0.1, 20, 'in', 'a'),
        {
          kind: 'trimmer',
          ref: 'R1',
          position: 'R1',
          channel: null,
          place: resistor('R9', 1, 'a', 'b').place,
          ohms: 10e3,
          turn: 0.3,
          between: ['a', 'gnd'],
          wiper: 'out',
        },
        capacitor('C1', 10e-9, 'out', 'gnd'),
      ],
    );
    const { network, point } = biased(stage);
    const live = createLiveBoard(network, point, frequencies)!;
    expect(live.parameters.map(({ ref }) => ref)).toEqual(['L1', 'R1', 'C1']);
    const values = Float64Array.of(0.2, 22e3, 4.7e-9);
    expect(live.solve(values)).toBe(true);
    // No device is in it: both solvers have nothing but rounding to differ by.
    expect(worstGap(stage, live, values)).toBeLessThan(1e-12);
  });

  it('writes what a whole capacitor loses, down to no loss at all', () => {
    const refs = ['C1', 'C2', 'C3', 'C4'];
    const ladder = (loss: number): Circuit =>
      circuit(
        [rail('vcc', 0)],
        refs.flatMap((ref, n) => {
          const [from, to] = [n === 0 ? 'in' : `n${n}`, n === 3 ? 'out' : `n${n + 1}`];
          const losses = { esr: 5 + n, leakage: 1e6, ...(loss > 0 ? { loss } : {}) };
          return [resistor(`R${n}`, 1e3, from, to), capacitor(ref, (10 + n) * 1e-9, to, 'gnd', losses)];
        }),
      );
    const { network, point } = biased(ladder(0.01));
    const live = createLiveBoard(network, point, frequencies, new Set(refs))!;
    for (const tangent of [0.05, 0, 0.01]) {
      const values = Float64Array.from(live.parameters, ({ nominal, parameter }) =>
        parameter === 'loss' ? tangent : nominal,
      );
      expect(live.solve(values)).toBe(true);
      // No device is in it: both solvers have nothing but rounding to differ by.
      expect(worstGap(ladder(tangent), live, new Float64Array(0)), `${tangent}`).toBeLessThan(1e-12);
    }
    expect(live.resolved).toBe(0);
  });

  it('divides by the input node where the generator has an impedance', () => {
    const stage = circuit([rail('vcc', 0)], [resistor('R1', 1e3, 'in', 'out'), capacitor('C1', 1e-6, 'out', 'gnd')]);
    const source = { resistance: 800, inductance: 0.48, capacitance: 150e-12 };
    const network = compileNetwork(stage, source);
    const bias = solveBias(network);
    if (!bias.ok) throw new Error(bias.diagnostic.message);
    const live = createLiveBoard(network, bias.point, frequencies)!;
    expect(live.solve(Float64Array.of(1e3, 1e-6))).toBe(true);
    frequencies.forEach((hz, k) => {
      const x = 2 * Math.PI * hz * 1e-3;
      // 1/(1 + jωRC), whatever drives the input.
      expect(live.gains[0]![2 * k]!).toBeCloseTo(1 / (1 + x * x), 12);
      expect(live.gains[0]![2 * k + 1]!).toBeCloseTo(-x / (1 + x * x), 12);
    });
  });

  it('stays right where values leave what the order was chosen for', () => {
    // The order was found with both alike.
    const stage = circuit([rail('vcc', 0)], [resistor('R1', 1e3, 'in', 'out'), resistor('R2', 1e3, 'out', 'gnd')]);
    const { network, point } = biased(stage);
    const live = createLiveBoard(network, point, frequencies)!;
    const values = Float64Array.of(1e-9, 1e15);
    expect(live.solve(values)).toBe(true);
    expect(live.gains[0]![0]!).toBeCloseTo(1, 9);
  });
});
