import type { Resistor, Trimmer } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { saidWatts, type FitContext, type FitRow } from './fit-row.ts';
import { ratingRow } from './rating-row.ts';

/** Watts of a resistor or trimmer at the bias, of which the signal is no part worth counting. */
export function resistorWatts(part: Resistor | Trimmer, { stage, ratings }: FitContext): readonly FitRow[] {
  if (part.ohms === 0) return [];
  const watts = part.kind === 'resistor' ? powerIn(stage, part.between, part.ohms) : hottestShare(part, stage);
  const times = ratings.watts === 1 ? '' : `${ratings.watts} × the `;
  return ratingRow(part, {
    where: 'watts',
    unit: 'W',
    needed: ratings.watts * watts,
    rated: part.rated,
    asked: true,
    because: `${times}${saidWatts(watts)} that it turns into heat`,
    write: `rated: 0.25 W with what is fitted at ${part.position}`,
    next: `choose one rated above ${saidWatts(ratings.watts * watts)} at ${part.position}`,
  });
}

type Stage = FitContext['stage'];

function powerIn({ network, point }: Stage, [first, second]: readonly [string, string], ohms: number): number {
  const volts = nodeVolts(network, point, first) - nodeVolts(network, point, second);
  return ohms === 0 ? 0 : volts ** 2 / ohms;
}

/** A track carries its rated watts over its whole length only: of a part of it, the watts that the whole would have if it were as hot. */
function hottestShare({ between: [first, second], ohms, turn, wiper }: Trimmer, stage: Stage): number {
  if (turn > 0 && wiper === undefined) return powerIn(stage, [first, second], ohms * turn) / turn;
  if (wiper === undefined) return 0;
  const below = turn > 0 ? powerIn(stage, [first, wiper], ohms * turn) / turn : 0;
  const above = turn < 1 ? powerIn(stage, [wiper, second], ohms * (1 - turn)) / (1 - turn) : 0;
  return Math.max(below, above);
}
