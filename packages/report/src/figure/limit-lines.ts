import type { Limits } from '@curvewright/board';
import { signed } from '../numbers.ts';
import type { LimitLine } from './figure.ts';

type DbLimit = 'deviation' | 'balance' | 'treble';
type DbPeak = 'ultrasonic' | 'subsonic_high' | 'subsonic_low';

/** Good and look of a limit that holds either way. */
export function eitherWay(limits: Limits, name: DbLimit): readonly LimitLine[] {
  const { from, to } = limits[name];
  return (['good', 'look'] as const).flatMap((level) => [
    dbLine(level, 'upper', limits[name][level], from, to),
    dbLine(level, 'lower', -limits[name][level], from, to),
  ]);
}

export function peakLimit(limits: Limits, name: DbPeak): readonly LimitLine[] {
  const { from, to } = limits[name];
  return (['good', 'look'] as const).map((level) => dbLine(level, 'upper', limits[name][level], from, to));
}

/** Half the width at which a limit of one frequency is drawn, as a factor: a third of an octave. */
const besideSpot = 2 ** (1 / 3);

export function bassLimit({ bass }: Limits): readonly LimitLine[] {
  return (['good', 'look'] as const).map((level) =>
    dbLine(level, 'lower', bass[level], bass.at / besideSpot, bass.at * besideSpot),
  );
}

/** mV over Hz. */
export function overloadLimit({ overload }: Limits): readonly LimitLine[] {
  return (['good', 'look'] as const).map((level) => {
    const value = 1000 * overload[level];
    const short = String(Number(value.toPrecision(3)));
    const [from, to] = [overload.at / besideSpot ** 2, overload.at * besideSpot ** 2];
    return { level, side: 'lower', value, from, to, text: `${short} mV ${level}`, short };
  });
}

function dbLine(
  level: LimitLine['level'],
  side: LimitLine['side'],
  value: number,
  from: number,
  to: number,
): LimitLine {
  const short = signed(value, 2).replace(/\.?0+$/, '');
  return { level, side, value, from, to, text: `${short} dB ${level}`, short };
}
