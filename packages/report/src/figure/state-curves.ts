import type { State } from '@curvewright/board';
import { targetDb } from '@curvewright/curves';
import type { CheckAnswer } from '@curvewright/verify';
import { statesShown } from '../states-shown.ts';

/** A state's curves in dB, by channel, over ascending frequencies in Hz. */
export interface StateCurve {
  readonly state: State;
  readonly hz: ArrayLike<number>;
  readonly deviationDb: readonly ArrayLike<number>[];
  readonly gainDb: readonly ArrayLike<number>[];
}

/** The curves that a check answers with, drawn first. */
export function stateCurves(answer: CheckAnswer): readonly StateCurve[] {
  return statesShown(answer).map(([state, { curves, channels }]) => {
    const target = curves.hz.map((hz) => targetDb('riaa', hz));
    return {
      state,
      hz: curves.hz,
      deviationDb: curves.channels,
      gainDb: curves.channels.map((deviation, c) =>
        deviation.map((db, i) => db + (target[i] ?? NaN) + (channels[c]?.gainDb ?? NaN)),
      ),
    };
  });
}

/** An answer, and the state that it is of. */
export interface OfState<Answer> {
  readonly state: State;
  readonly answer: Answer;
}
