import type { Limits } from '@curvewright/board';
import { curveFrequencies, type StagedState } from '@curvewright/verify';
import type { StateCurves } from '../contract/sheet.ts';

/** Deviation and gain of a state on the figure's grid. */
export function stateCurves({ state, probe }: StagedState, limits: Limits): StateCurves {
  const hz = curveFrequencies(limits);
  const { stage, reader } = probe;
  const channels = stage.circuit.channels.map((_, channel) => channel);
  return {
    state,
    hz,
    deviationDb: channels.map((channel) => hz.map((each) => reader.deviationDb(channel, each))),
    gainDb: channels.map((channel) => hz.map((each) => reader.gainDb(channel, each))),
  };
}
