import { reachDb } from '../spread/reach.ts';
import { spreadPlan, spreadRunner, type SpreadRunner } from '../spread/runner.ts';
import { gather } from '../spread/tally.ts';
import type { StagedJob, StagedState } from '../staged-job.ts';

/** How far healthy boards reach below and above the one with nominal values, dB. */
export interface HealthyReach {
  readonly boards: number;
  gain(channel: number): readonly [number, number];
  deviation(channel: number, hz: number): readonly [number, number];
}

/** Boards of which the furthest make the band: a healthy board then lies outside at one frequency in some hundred. */
const boards = 300;
const seed = 1;

/** Null where the state cannot be solved as boards. */
export function healthyReach({ limits, job, states }: StagedJob, { probe }: StagedState): HealthyReach | null {
  const drawn = states[0]?.probe.stage ?? probe.stage;
  const runner = spreadRunner(spreadPlan(probe.stage, drawn, { limits, matched: job?.board.matched ?? [], seed }));
  return runner === null ? null : reachOf(runner);
}

function reachOf(runner: SpreadRunner): HealthyReach {
  const { layout, sweep, nominal } = runner;
  const sample = gather([runner.run(0, boards)]);
  const around = (column: number): readonly [number, number] => {
    const { worstLowDb, worstHighDb } = reachDb(sample.column(column));
    return [worstLowDb - nominal[column]!, worstHighDb - nominal[column]!];
  };
  const told = sweep.told.map((i) => Math.log(sweep.hz[i]!));
  return {
    boards,
    gain: (channel) => around(layout.gain + channel),
    deviation(channel, hz) {
      const first = layout.deviation + channel * told.length;
      const above = Math.min(
        told.length - 1,
        Math.max(
          1,
          told.findIndex((each) => each >= Math.log(hz)),
        ),
      );
      const share = Math.min(1, Math.max(0, (Math.log(hz) - told[above - 1]!) / (told[above]! - told[above - 1]!)));
      const [left, right] = [around(first + above - 1), around(first + above)];
      return [left[0] + share * (right[0] - left[0]), left[1] + share * (right[1] - left[1])];
    },
  };
}
