import type { Part } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { bears, ofPart, type FitRow, type FitUnit } from './fit-row.ts';

/** One rating of a part beside what it has to be; V, A or W. */
export interface Demand {
  /** The rating's name: `volts`, `VCEO`. */
  readonly where: string;
  readonly unit: 'V' | 'A' | 'W';
  /** The least that the rating has to be. */
  readonly needed: number;
  /** Undefined where the file is silent. */
  readonly rated: number | undefined;
  /** Whether a fitted part has to state it. */
  readonly asked: boolean;
  /** What asks for it: `1.25 × the 5.04 V across it`. */
  readonly because: string;
  /** Where and how it would be written. */
  readonly write: string;
  readonly next: string;
}

const scales: Readonly<Record<Demand['unit'], readonly [FitUnit, number]>> = {
  V: ['V', 1],
  A: ['mA', 1000],
  W: ['mW', 1000],
};

/** Nothing where the rating is silent and need not be stated. */
export function ratingRow(part: Part, demand: Demand): readonly FitRow[] {
  const { where, unit: si, needed, rated, because, write, next } = demand;
  const [unit, scale] = scales[si];
  const common = { what: 'rating' as const, ...ofPart(part), where, value: needed * scale, unit };
  if (rated === undefined) {
    if (!demand.asked || part.fitted !== true) return [];
    return [
      {
        ...common,
        ...{ level: 'not measured', margin: NaN, bound: `no ${where} rating` },
        cause: `${part.ref} is rated for nothing in the file, and has to bear ${because}`,
        next: `read its rating and write ${write}`,
      },
    ];
  }
  const good = bears(rated, needed);
  return [
    {
      ...common,
      level: good ? 'good' : 'fail',
      margin: (rated - needed) * scale,
      bound: `${printQuantity(rated, si)} rated`,
      cause: `${part.ref}: ${because}`,
      next: good ? 'nothing' : next,
    },
  ];
}
