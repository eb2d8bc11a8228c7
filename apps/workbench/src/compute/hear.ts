import { aWeightingPower, logFrequencies } from '@curvewright/curves';
import { audibleNoise, type StagedState } from '@curvewright/verify';
import type { Heard, HeardState, HearRequest } from '../contract/hear.ts';
import { layOut } from './bench.ts';
import { levelAt, minimumPhase, type LevelCurve } from './ear-filter.ts';
import { hissLoop, humLoop } from './ear-noise.ts';

/** Hz at which the filters are computed. */
const filterHz = [...logFrequencies(1, 100_000, 60)];

/** Hz of the bands that are weighed for loudness; pink noise has the same power in each. */
const bands = [...logFrequencies(20, 20_000, 30)];

export function heard({ subject, sampleRate }: HearRequest): Heard {
  const laid = layOut(subject, null);
  if (!laid.ok) return laid;
  return { ok: true, states: laid.value.staged.states.map((state) => heardState(state, sampleRate)) };
}

function heardState(state: StagedState, sampleRate: number): HeardState {
  const curves = curvesOf(state);
  const matchDb = -loudnessDb(curves);
  const times = 10 ** (matchDb / 20);
  const noises = audibleNoise(state.probe.stage);
  return {
    state: state.state,
    matchDb,
    channels: state.probe.stage.circuit.channels.map(({ name }, c) => {
      const curve = curves[c] ?? { hz: [1], db: [0] };
      const noise = noises[c] ?? { name, hiss: [], hum: [] };
      const hiss = hissLoop(noise.hiss, sampleRate, 2 * c);
      const hum = humLoop(noise.hum, sampleRate, 2 * c + 1);
      return {
        name,
        filter: minimumPhase({ hz: curve.hz, db: Array.from(curve.db, (db) => db + matchDb) }, sampleRate),
        hiss: hiss.samples.map((value) => value * times),
        hum: hum === null ? null : hum.samples.map((value) => value * times),
        hissDb: 20 * Math.log10(hiss.rms),
        humDb: hum === null ? null : 20 * Math.log10(hum.rms),
      };
    }),
  };
}

/** Each channel's deviation, with its own gain against the mean of all. */
function curvesOf({ probe: { stage, reader } }: StagedState): readonly LevelCurve[] {
  const channels = stage.circuit.channels.map((_, c) => c);
  const mean = channels.reduce((sum, c) => sum + reader.gainDb(c, 1000), 0) / channels.length;
  return channels.map((c) => {
    const own = reader.gainDb(c, 1000) - mean;
    return { hz: filterHz, db: filterHz.map((hz) => reader.deviationDb(c, hz) + own) };
  });
}

/** What pink noise gains in A-weighted power, over all channels. */
function loudnessDb(curves: readonly LevelCurve[]): number {
  let [before, after] = [0, 0];
  for (const hz of bands) {
    const weight = aWeightingPower(hz);
    for (const curve of curves) {
      before += weight;
      after += weight * 10 ** (levelAt(curve, hz) / 10);
    }
  }
  return 10 * Math.log10(after / before);
}
