import type { Part, PartCommon } from '../circuit.ts';
import { acrossNodes, twoLeads } from '../leads.ts';
import type { PartType } from '../part-type.ts';
import { stated } from '../stated.ts';
import type { StockPart } from './stock.ts';

/** Whether a row of a drawer is of the kind that a position of the board holds; diodes and zeners stand in for each other. */
export function isOfKind(stock: StockPart, drawn: Part): boolean {
  if (drawn.kind !== 'typed') return stock.kind === drawn.kind;
  const family = (kind: string): string => (kind === 'zener' ? 'diode' : kind);
  return family(stock.kind) === family(drawn.type.kind);
}

/** The type of a semiconductor or valve in the drawer; null where its figures are not known or are of another kind, and for other parts. */
export function typeOfStock(stock: StockPart, types: Readonly<Record<string, PartType>>): PartType | null {
  const type = stock.type !== undefined && Object.hasOwn(types, stock.type) ? types[stock.type] : undefined;
  return type?.kind === stock.kind ? type : null;
}

/**
 * The part, of a kind with the drawn one, in its place: it takes from it only the nodes and the setting of a trimmer. `pieces` above 1 stand in
 * series, named as in a job (`D103.1` at the anode or plus side). Throws where the type is not among `types`.
 */
export function stockStanding(
  stock: StockPart,
  drawn: Part,
  pieces: number,
  types: Readonly<Record<string, PartType>>,
): readonly Part[] {
  if (pieces === 1) return [stockAt(stock, drawn, drawn.ref, types)];
  const ends = twoLeads(drawn);
  if (ends === null) throw new RangeError(`${drawn.ref} has no two leads between which parts could stand in series`);
  const inner = (after: number): string =>
    `${drawn.ref}.${after}-${after + 1}${drawn.channel === null ? '' : `@${drawn.channel}`}`;
  return Array.from({ length: pieces }, (_, n) => {
    const place = acrossNodes(drawn, n === 0 ? ends[0] : inner(n), n === pieces - 1 ? ends[1] : inner(n + 1));
    return stockAt(stock, place, `${drawn.ref}.${n + 1}`, types);
  });
}

function stockAt(stock: StockPart, drawn: Part, ref: string, types: Readonly<Record<string, PartType>>): Part {
  const { value = NaN, rated, build, place } = stock;
  const common: PartCommon = {
    ref,
    position: drawn.position,
    channel: drawn.channel,
    place,
    fitted: true,
    body: stock.body,
    ...stated({ tolerance: stock.tolerance, seat: drawn.seat }),
  };
  switch (drawn.kind) {
    case 'resistor':
      return { ...common, kind: 'resistor', between: drawn.between, ohms: value, ...stated({ rated, build }) };
    case 'capacitor':
      return {
        ...common,
        kind: 'capacitor',
        plus: drawn.plus,
        minus: drawn.minus,
        polarised: drawn.polarised,
        farads: value,
        ...stated({ rated, build, esr: stock.esr, leakage: stock.leakage, loss: stock.loss }),
      };
    case 'inductor':
      return { ...common, kind: 'inductor', between: drawn.between, henries: value, ohms: stock.esr ?? 0 };
    case 'trimmer':
      return {
        ...common,
        kind: 'trimmer',
        between: drawn.between,
        ohms: value,
        turn: drawn.turn,
        ...stated({ wiper: drawn.wiper, rated }),
      };
    case 'switch':
      throw new RangeError(`${drawn.ref} is a switch, which no drawer holds`);
    case 'typed': {
      const type = typeOfStock(stock, types);
      if (type === null) throw new RangeError(`${stock.stock}: no figures are known of its type`);
      return {
        ...common,
        kind: 'typed',
        typeName: stock.type ?? '',
        type: ofCase(type, stock.caseLeads),
        leads: drawn.leads,
        ...stated({ rails: drawn.rails }),
      };
    }
  }
}

/** A row that names a case leaves no doubt which of the type's cases it is. */
function ofCase(type: PartType, caseLeads: StockPart['caseLeads']): PartType {
  if (caseLeads === undefined) return type;
  const { otherCases: _, ...ofOneCase } = type;
  return { ...ofOneCase, caseLeads };
}
