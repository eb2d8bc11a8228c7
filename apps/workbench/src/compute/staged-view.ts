import type { Limits } from '@curvewright/board';
import { curveFrequencies, stageSheet, type StagedState } from '@curvewright/verify';
import type { StateCurves, StateNumbers } from '../contract/sheet.ts';

/** What the sheet shows of one state. */
export interface StagedView {
  readonly numbers: StateNumbers;
  readonly curves: StateCurves;
}

export function stagedView({ state, assumed, probe }: StagedState, limits: Limits): StagedView {
  const { stage, reader } = probe;
  const hz = curveFrequencies(limits);
  const channels = stage.circuit.channels.map((_, channel) => channel);
  return {
    numbers: { state, assumed, ...stageSheet(stage, limits, reader) },
    curves: {
      state,
      hz,
      deviationDb: channels.map((channel) => hz.map((each) => reader.deviationDb(channel, each))),
      gainDb: channels.map((channel) => hz.map((each) => reader.gainDb(channel, each))),
    },
  };
}
