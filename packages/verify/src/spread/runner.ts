import type { Circuit, Limits } from '@curvewright/board';
import { createLiveBoard, nodeVolts, type LiveBoard, type Network, type Source } from '@curvewright/network';
import { gainReader } from '../gain-reader.ts';
import { solveStage, type Stage } from '../stage.ts';
import { boardReader, rowLayout, type BoardReader, type RowLayout } from './board-row.ts';
import { drawBoard, drawsOf, writeValues, type Draws } from './draw.ts';
import { sweepOf, type Sweep } from './sweep.ts';
import type { Tally } from './tally.ts';

/** Everything a spread follows from: plain data, fit to be sent between threads. */
export interface SpreadPlan {
  readonly circuit: Circuit;
  readonly source: Source;
  readonly limits: Limits;
  /** Groups of designators that are drawn alike. */
  readonly matched: readonly (readonly string[])[];
  /** A whole number from 0 to 2³² − 1. */
  readonly seed: number;
  /** What gain and node voltages are held against. */
  readonly drawn: { readonly gainsDb: readonly number[]; readonly volts: Readonly<Record<string, number>> };
}

export function spreadPlan(
  stage: Stage,
  drawn: Stage,
  { limits, matched, seed }: Pick<SpreadPlan, 'limits' | 'matched' | 'seed'>,
): SpreadPlan {
  const reader = gainReader(drawn);
  const nodes = [...drawn.network.nodes.keys()];
  return {
    circuit: stage.circuit,
    source: stage.source,
    limits,
    matched,
    seed,
    drawn: {
      gainsDb: drawn.circuit.channels.map((_, channel) => reader.gainDb(channel, 1000)),
      volts: Object.fromEntries(nodes.map((node) => [node, nodeVolts(drawn.network, drawn.point, node)])),
    },
  };
}

/** Draws boards of one plan and solves them, in storage made once. */
export interface SpreadRunner {
  readonly plan: SpreadPlan;
  readonly sweep: Sweep;
  readonly layout: RowLayout;
  readonly draws: Draws;
  readonly live: LiveBoard;
  readonly reader: BoardReader;
  /** The row of the board with every part at its nominal value. */
  readonly nominal: Float64Array;
  /** Boards `from` to `from + boards − 1`: the same whatever was run before. */
  run(from: number, boards: number): Tally;
}

/** Null where the board with nominal values has no bias, or no response at some frequency. */
export function spreadRunner(plan: SpreadPlan): SpreadRunner | null {
  const solved = solveStage(plan.circuit, plan.source);
  if (!solved.ok) return null;
  const { network, point } = solved.value;
  const sweep = sweepOf(plan.limits);
  const live = createLiveBoard(network, point, sweep.hz);
  return live === null ? null : runnerOn(plan, network, sweep, live);
}

function runnerOn(plan: SpreadPlan, network: Network, sweep: Sweep, live: LiveBoard): SpreadRunner {
  const layout = rowLayout(network, sweep);
  const draws = drawsOf(plan.circuit, live.parameters, plan.matched);
  const reader = boardReader(network, live, sweep, layout, plan.limits);
  const values = new Float64Array(live.parameters.length);
  const drawn = new Float64Array(draws.groups.length);
  const row = new Float64Array(layout.size);
  live.solve(draws.nominal);
  reader.readRow(row);

  function run(from: number, boards: number): Tally {
    const rows = new Float32Array(boards * layout.size);
    const before = live.resolved;
    for (let n = 0; n < boards; n++) {
      drawBoard(draws, plan.seed, from + n, drawn);
      writeValues(draws, drawn, values);
      if (live.solve(values, from + n)) reader.readRow(row);
      else row.fill(NaN);
      rows.set(row, n * layout.size);
    }
    return { from, boards, rows, size: layout.size, resolved: live.resolved - before };
  }
  return { plan, sweep, layout, draws, live, reader, nominal: row.slice(), run };
}
