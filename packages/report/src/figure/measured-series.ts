import type { MeasuredAnswer } from '@curvewright/verify';
import type { Series } from './figure.ts';

/** Points of what was measured, channel by channel; where nothing stood out of the noise there is none. */
export function measuredSeries(measured: MeasuredAnswer | null): readonly Series[] {
  if (measured === null) return [];
  const { channels } = measured;
  return channels.flatMap(({ name, points }, c): readonly Series[] => {
    const known = points.flatMap(({ hz, deviationDb }) => (deviationDb === null ? [] : [{ hz, deviationDb }]));
    if (known.length === 0) return [];
    return [
      {
        ...{ label: 'measured', channel: channels.length > 1 ? name : null, look: 'measured', double: c > 0 },
        x: known.map(({ hz }) => hz),
        y: known.map(({ deviationDb }) => deviationDb),
      },
    ];
  });
}
