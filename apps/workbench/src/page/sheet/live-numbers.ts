import type { LiveCurves, StateNumbers } from '../../contract/compute.ts';

type ChannelNumbers = StateNumbers['channels'][number];

/** A state's numbers as the hand moves a value; NaN where only a full computation can tell. `hz` is the figure's grid. */
export function liveNumbers(state: StateNumbers, live: LiveCurves, hz: Float64Array): StateNumbers {
  return {
    ...state,
    balanceDb: live.balanceDb,
    channels: state.channels.map((channel, c): ChannelNumbers => {
      const deviation = live.deviationDb[c] ?? new Float64Array();
      const at = ({ hz: spot }: { hz: number }): { hz: number; deviationDb: number } => ({
        hz: spot,
        deviationDb: spot === 20 ? (live.at20HzDb[c] ?? NaN) : between(hz, deviation, spot),
      });
      return {
        ...channel,
        gainDb: live.gainDb[c] ?? NaN,
        worstDeviationDb: live.worstDb[c] ?? NaN,
        worstHz: NaN,
        rolloffHz: NaN,
        rolloffHighHz: NaN,
        subsonicPeaks: channel.subsonicPeaks.map((peak) => ({ ...peak, db: NaN, hz: NaN })),
        points: channel.points.map(at),
      };
    }),
  };
}

/** Linear over the logarithm of frequency, which on the figure's grid is well within its last printed digit. */
function between(hz: Float64Array, db: Float64Array, spot: number): number {
  const above = hz.findIndex((each) => each >= spot);
  const [f1, f0, d1] = [hz[above], hz[above - 1], db[above]];
  if (f1 === undefined || d1 === undefined) return NaN;
  if (f1 === spot || f0 === undefined) return d1;
  const share = Math.log(spot / f0) / Math.log(f1 / f0);
  return (db[above - 1] ?? NaN) * (1 - share) + d1 * share;
}
