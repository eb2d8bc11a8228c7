import { readdirSync, readFileSync } from 'node:fs';
import { readBoard, type Circuit } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import {
  biasSensitivities,
  circuitWithFactors,
  compileNetwork,
  gainSensitivities,
  linearise,
  nodeVolts,
  solveBias,
  unknownOf,
  valueMoves,
  type Network,
  type OperatingPoint,
} from '../src/index.ts';

const folder = new URL('../../../seeds/boards/', import.meta.url);
const frequencies = Float64Array.of(20, 1000, 20_000);
const wanted = ['value', 'leakage', 'hFE', 'VBE', 'VF', 'IDSS', 'VGS_off', 'mu', 'Ia', 'volts'];

interface Solved {
  readonly circuit: Circuit;
  readonly network: Network;
  readonly point: OperatingPoint;
}

function solved(circuit: Circuit): Solved {
  const network = compileNetwork(circuit);
  const bias = solveBias(network);
  if (!bias.ok) throw new Error(bias.diagnostic.message);
  return { circuit, network, point: bias.point };
}

function board(name: string): Solved {
  const read = readBoard(readFileSync(new URL(name, folder), 'utf8'), name);
  if (!read.ok) throw new Error(name);
  return solved(read.value.circuit);
}

function movesOf({ network, point }: Solved) {
  const small = linearise(network, point);
  const exact = biasSensitivities(network, point)!;
  const values = exact.parameters.filter(({ parameter }) => wanted.includes(parameter));
  const nodes = [...network.nodes.keys()];
  const pairs = nodes.map((node) => [unknownOf(network, node), -1] as const);
  const moves = valueMoves(network, point, { small, frequencies, withMoves: true }, pairs, values)!;
  return { small, exact, values, nodes, moves };
}

describe('moves of loose values', () => {
  it.each(readdirSync(folder).filter((name) => name.endsWith('.board.yaml')))(
    '%s: as the exact sensitivities have them',
    (name) => {
      const { network, point } = board(name);
      const { small, exact, values, nodes, moves } = movesOf({ circuit: network.circuit, network, point });
      const gains = gainSensitivities(small, exact, frequencies);
      values.forEach((value, v) => {
        const p = exact.parameters.indexOf(value);
        nodes.forEach((node, n) => {
          const right = exact.moves[p]![unknownOf(network, node)]!;
          // Devices are differenced once, over 10⁻⁴ of a figure: a VBE moves by 0.06 mV of kT/q = 26 mV, (0.06/26)²/6 = 10⁻⁶ of the slope.
          const tolerance = 1e-7 + 1e-5 * Math.abs(right);
          expect(Math.abs(moves.voltsMoves[n * values.length + v]! - right), `${value.ref} ${node}`).toBeLessThan(
            tolerance,
          );
        });
        gains.gains.forEach((gain, c) => {
          frequencies.forEach((_, n) => {
            const [re, im] = [gain[2 * n]!, gain[2 * n + 1]!];
            const slope = gains.slopes[c]![p]!;
            const right = ((20 / Math.LN10) * (re * slope[2 * n]! + im * slope[2 * n + 1]!)) / (re * re + im * im);
            const row = c * frequencies.length + n;
            // The same, and how slopes bend is differenced over 0.1 mV: 2·10⁻⁶ of terms of several hundred dB that cancel.
            const tolerance = 2e-3 * Math.max(1, Math.abs(right));
            expect(
              Math.abs(moves.gainMoves[row * values.length + v]! - right),
              `${value.ref} ${value.parameter}`,
            ).toBeLessThan(tolerance);
          });
        });
      });
    },
  );

  it('gives the resistance of a pair as a small load finds it', () => {
    const before = board('lk417.board.yaml');
    const { moves, nodes } = movesOf(before);
    for (const node of ['b1@left', 'c1@left', 'e3@right']) {
      const ohms = moves.ohms[nodes.indexOf(node)]!;
      const load = 1e4 * ohms;
      const meter = {
        kind: 'resistor' as const,
        ref: 'M1',
        position: 'M1',
        channel: null,
        place: { file: 'test', line: 1, column: 1 },
        ohms: load,
        between: [node, 'gnd'] as const,
      };
      const after = solved({ ...before.circuit, parts: [...before.circuit.parts, meter] });
      const volts = nodeVolts(before.network, before.point, node);
      const moved = nodeVolts(after.network, after.point, node) - volts;
      // A load of 10⁴ times the resistance moves the node by 10⁻⁴ of its volts, and bends what it meets by as much again.
      expect(moved / ((-volts * ohms) / load)).toBeCloseTo(1, 2);
    }
  });

  it('leaves gains without moves where they are not asked for', () => {
    const { network, point } = board('lk630.board.yaml');
    const small = linearise(network, point);
    const moves = valueMoves(network, point, { small, frequencies, withMoves: false }, [], [])!;
    const whole = movesOf({ circuit: network.circuit, network, point }).moves;
    expect(moves.gainMoves).toHaveLength(0);
    expect([...moves.gains]).toEqual([...whole.gains]);
  });
});

describe('a circuit with its values times factors', () => {
  it('moves the voltages by what the first-order moves say', () => {
    const before = board('lk205.board.yaml');
    const { values, moves, nodes } = movesOf(before);
    const step = 1e-4;
    const factors = values.map((_, v) => 1 + step * Math.sin(v + 1));
    const after = solved(circuitWithFactors(before.circuit, values, factors));
    for (const [n, node] of nodes.entries()) {
      const predicted = values.reduce(
        (sum, _, v) => sum + Math.log(factors[v]!) * moves.voltsMoves[n * values.length + v]!,
        0,
      );
      const moved = nodeVolts(after.network, after.point, node) - nodeVolts(before.network, before.point, node);
      // What is left goes with the square of the steps: 10⁻⁸ of some hundred volts per unit.
      expect(Math.abs(moved - predicted), node).toBeLessThan(2e-5);
    }
  });
});
