import { mergeLimits, type Board, type Circuit } from '@curvewright/board';
import { spreadAnswer, spreadPlan, spreadRunner, type SpreadAnswer, type SpreadRunner } from '../../src/index.ts';
import { stageOf } from '../stages.ts';

/** A runner for a board, or for that board with another circuit; throws where it cannot be solved. */
export function runnerOf(board: Board, circuit: Circuit = board.circuit, seed: number = 1): SpreadRunner {
  const stage = stageOf(circuit);
  const plan = spreadPlan(stage, stage, { limits: mergeLimits(board.limits), matched: board.matched, seed });
  const runner = spreadRunner(plan);
  if (runner === null) throw new Error('cannot be solved');
  return runner;
}

export function spreadOf(board: Board, boards: number): SpreadAnswer {
  const runner = runnerOf(board);
  return spreadAnswer(runner, [runner.run(0, boards)]);
}
