import { logFrequencies, targetDb } from '@curvewright/curves';
import { mergeLimits } from '@curvewright/board';
import { createLiveBoard } from '@curvewright/network';
import { solveStage, spreadPlan, spreadRunner, type SpreadRunner } from '@curvewright/verify';
import { runBoards, type BoardThread } from '../../apps/cli/src/spread-workers.ts';
import { seedBoard, valueOf } from '../seeds/read-seeds.ts';

/** Milliseconds of each of many slider moves on the demo board: one value written, bias, 400 points, deviation of both channels. */
export function sliderMoves(count: number): number[] {
  const { network, point } = valueOf(solveStage(seedBoard('lk417').circuit));
  const frequencies = Float64Array.from(logFrequencies(2, 100_000, 85)).subarray(0, 400);
  const live = createLiveBoard(network, point, frequencies);
  if (!live) throw new Error('the demo board is singular');
  const target = frequencies.map((hz) => targetDb('riaa', hz));
  const reference = frequencies.findIndex((hz) => hz >= 1000);
  const deviation = live.gains.map(() => new Float64Array(frequencies.length));
  const values = Float64Array.from(live.parameters, ({ nominal }) => nominal);
  const dragged = live.parameters.findIndex(({ ref }) => ref === 'C103');
  return Array.from({ length: count }, (_, n) => {
    const began = performance.now();
    values[dragged] = live.parameters[dragged]!.nominal * (1 + 0.9 * Math.sin(n / 30));
    if (!live.solve(values)) throw new Error('no bias');
    live.gains.forEach((gain, channel) => {
      const own = deviation[channel]!;
      for (let k = 0; k < own.length; k++) {
        own[k] = 10 * Math.log10(gain[2 * k]! ** 2 + gain[2 * k + 1]! ** 2) - target[k]!;
      }
      const at = own[reference]!;
      for (let k = 0; k < own.length; k++) own[k] = own[k]! - at;
    });
    return performance.now() - began;
  });
}

export function demoSpread(): SpreadRunner {
  const board = seedBoard('lk417');
  const stage = valueOf(solveStage(board.circuit));
  const plan = spreadPlan(stage, stage, { limits: mergeLimits(board.limits), matched: board.matched, seed: 1 });
  const runner = spreadRunner(plan);
  if (!runner) throw new Error('the demo board cannot be spread');
  return runner;
}

/** Seconds of a whole spread on this thread and `threads`. */
export async function spreadSeconds(
  runner: SpreadRunner,
  boards: number,
  threads: readonly BoardThread[],
): Promise<number> {
  const began = performance.now();
  await runBoards(runner, { boards, threads, signal: new AbortController().signal, progress: () => undefined });
  return (performance.now() - began) / 1000;
}
