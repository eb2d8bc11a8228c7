import type { Limits } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { designatorsIn } from './designator.ts';
import type { Probe } from './figure.ts';
import type { FurtherReader } from './further-answers.ts';
import { toldFigure, type Kind, type ToldFigure } from './told-figure.ts';

const kind: Kind = { what: 'settle', unit: 's', side: 'at most', dear: true };

/** Slowest poles whose parts are asked for another value. */
const slow = 4;

/** No figure where the stage could not be switched on. */
export function settleFigure(
  probe: Probe,
  further: FurtherReader,
  { settle: limit }: Limits,
  channel: number,
): readonly ToldFigure[] {
  const settle = further.settle(probe);
  if (settle === null) return [];
  const read = (other: Probe): number => {
    const answer = further.settle(other);
    return answer === null ? NaN : (answer.channels[channel]?.settleS ?? Infinity);
  };
  const slowest = (further.poles(probe)?.poles ?? [])
    .toSorted((a, b) => Math.abs(a.realPerS) - Math.abs(b.realPerS))
    .map(({ realPerS, parts }) => ({
      seconds: 1 / Math.abs(realPerS),
      refs: designatorsIn(
        probe.stage,
        parts.map(({ ref }) => ref),
        channel,
      ),
    }))
    .filter(({ refs }) => refs.length > 0);
  const [first] = slowest;
  const [leading, ...others] = first?.refs.slice(0, 2) ?? [];
  return [
    toldFigure(kind, channel, limit, probe, read, {
      where: `to ${printQuantity(settle.withinV, 'V')} after switch-on`,
      named: slowest.flatMap(({ refs }) => refs),
      asked: slowest.slice(0, slow).flatMap(({ refs }) => refs),
      cause:
        settle.trouble ??
        (first && leading
          ? `the slowest time constant, ${printQuantity(first.seconds, 's', 2)}, is that of ${[leading, ...others].join(' and ')}`
          : 'nothing is slow'),
      otherwise: `mute until it has settled, and measure ${leading ?? 'the supplies'}`,
    }),
  ];
}
