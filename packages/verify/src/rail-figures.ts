import type { Limits } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import type { Probe } from './figure.ts';
import type { FurtherReader } from './further-answers.ts';
import type { HumAnswer } from './hum.ts';
import { toldFigure, type Kind, type ToldFigure } from './told-figure.ts';

const humKind: Kind = { what: 'hum', unit: 'dB', side: 'at most', dear: false };
const crosstalkKind: Kind = { what: 'crosstalk', unit: 'dB', side: 'at least', dear: false };

/** No figure where no rail states a ripple, or none of it reaches the output. */
export function humFigure(
  probe: Probe,
  further: FurtherReader,
  hum: HumAnswer,
  { hum: limit }: Limits,
  channel: number,
): readonly ToldFigure[] {
  const read = (other: Probe): number => further.hum(other)[channel] ?? NaN;
  const [loudest] = hum.rails
    .map((rail) => ({ rail, millivolts: rail.channels[channel]?.outputMv ?? 0 }))
    .sort((a, b) => b.millivolts - a.millivolts);
  if (hum.channels[channel]!.humDb === null || loudest === undefined) return [];
  const { rail, millivolts } = loudest;
  const [best] = rail.decouplers
    .map(({ ref, channels }) => ({ ref, db: channels[channel]?.db ?? 0 }))
    .sort((a, b) => b.db - a.db);
  const ripple = `${printQuantity(rail.rippleV ?? 0, 'V')} of ripple on ${rail.rail} leaves ${printQuantity(millivolts / 1000, 'V', 2)}`;
  return [
    toldFigure(humKind, channel, limit, probe, read, {
      where: 're 5 mV programme',
      named: [],
      asked: [],
      cause: best && best.db > 0 ? `${ripple}; ${best.ref} takes ${best.db.toFixed(1)} dB off it` : ripple,
      otherwise: `measure the ripple on ${rail.rail}`,
    }),
  ];
}

/** No figure where nothing leads across. */
export function crosstalkFigure(
  probe: Probe,
  further: FurtherReader,
  { crosstalk: limit }: Limits,
  channel: number,
): readonly ToldFigure[] {
  const read = (other: Probe): number => further.separation(other)[channel] ?? NaN;
  if (Number.isNaN(read(probe))) return [];
  return [
    toldFigure(crosstalkKind, channel, limit, probe, read, {
      hz: limit.at,
      where: `at ${printQuantity(limit.at, 'Hz')}`,
      named: [],
      asked: [],
      cause: 'the other channel comes through the rails and nodes that both share',
      otherwise: 'look at the supply decoupling and the common ground',
    }),
  ];
}
