import {
  describeStanding,
  isOfKind,
  stockStanding,
  twoLeads,
  typeOfStock,
  type Part,
  type PartType,
  type StockPart,
} from '@curvewright/board';
import type { ChoicePlace } from './choice-place.ts';
import type { FitRule, Objection } from './fit-rule.ts';

/** A part of the drawer in all positions of a place. */
export interface Candidate {
  readonly place: ChoicePlace;
  readonly stock: StockPart;
  /** In series in each position. */
  readonly pieces: number;
  /** Pieces that it takes from the drawer. */
  readonly takes: number;
  /** Of all designators; empty where no figures are known of its type. */
  readonly parts: readonly Part[];
  readonly against: readonly Objection[];
}

/** Diodes of one kind that are tried in series: two or three make up the drop of a bias diode. */
const mostInSeries = 3;

/** Every row of the drawer that is of the place's kind, in the drawer's order; diodes in series, too. */
export function candidatesFor(
  place: ChoicePlace,
  stock: readonly StockPart[],
  types: Readonly<Record<string, PartType>>,
  fits: FitRule,
): readonly Candidate[] {
  const [drawn] = place.drawn;
  if (drawn === undefined) return [];
  const longest = drawn.kind === 'typed' && twoLeads(drawn) !== null ? mostInSeries : 1;
  return stock
    .filter((each) => isOfKind(each, drawn))
    .flatMap((each) => Array.from({ length: longest }, (_, n) => candidate(place, each, n + 1, types, fits)));
}

function candidate(
  place: ChoicePlace,
  stock: StockPart,
  pieces: number,
  types: Readonly<Record<string, PartType>>,
  fits: FitRule,
): Candidate {
  const takes = pieces * place.refs.length;
  const few: readonly Objection[] =
    stock.quantity !== null && stock.quantity < takes
      ? [{ level: 'fail', what: 'quantity', reason: `${stock.quantity} in the drawer, ${takes} needed` }]
      : [];
  if (stock.type !== undefined && typeOfStock(stock, types) === null) {
    const reason = `no figures of a ${stock.kind} ${stock.type} are known; write them under types: of the job, or beside the drawer`;
    return {
      place,
      stock,
      pieces,
      takes,
      parts: [],
      against: [...few, { level: 'not measured', what: 'type', reason }],
    };
  }
  const parts = place.drawn.flatMap((drawn) => stockStanding(stock, drawn, pieces, types));
  return { place, stock, pieces, takes, parts, against: few.length > 0 ? few : fits(parts) };
}

/** What a job writes under `fit` for it. */
export function fitOf({ stock, pieces }: Candidate): StockPart['written'] | readonly StockPart['written'][] {
  return pieces === 1 ? stock.written : Array.from({ length: pieces }, () => stock.written);
}

/** Of all pieces that the place takes, to a millionth: decimals add up as on paper. */
export function priceOf({ stock, takes }: Pick<Candidate, 'stock' | 'takes'>): number | null {
  return stock.price === null ? null : Math.round(stock.price * takes * 1e6) / 1e6;
}

/** `33 µF aluminium, ESR 0.9 Ω, 25 V`, or what is known of a part without figures. */
export function describeCandidate({ parts, place, stock }: Candidate): string {
  const first = parts.filter(({ position }: Part) => position === place.refs[0]);
  if (first.length === 0) return stock.type ?? stock.kind;
  const { rated } = stock.written;
  return describeStanding({ parts: first, faults: [] }) + (typeof rated === 'string' ? `, ${rated}` : '');
}
