import type { Part, StockPart } from '@curvewright/board';
import { mainValue } from '../part-value.ts';
import { soldWords } from './sold-words.ts';

/** One kind of part that the rework takes. */
export interface PurchaseLine {
  /** The drawer's code; null where the drawer has no such part. */
  readonly stock: string | null;
  readonly what: string;
  readonly refs: readonly string[];
  readonly quantity: number;
  /** Pieces in the drawer; null where it does not count them, or has none. */
  readonly inDrawer: number | null;
  readonly toBuy: number;
  /** Of one, in the drawer's currency; null where it is not known. */
  readonly price: number | null;
  /** Of all pieces. */
  readonly total: number | null;
}

/** What is fitted, alike parts on one line, in the order in which they are first needed. */
export function purchaseList(fitted: readonly Part[], stock: readonly StockPart[]): readonly PurchaseLine[] {
  const kinds = new Map<string, Part[]>();
  for (const part of fitted) {
    const key = `${part.kind} ${soldWords(part)}`;
    kinds.set(key, [...(kinds.get(key) ?? []), part]);
  }
  return [...kinds.values()].flatMap((parts) => {
    const [part] = parts;
    return part === undefined ? [] : [lineFor(part, parts, stock)];
  });
}

function lineFor(part: Part, parts: readonly Part[], stock: readonly StockPart[]): PurchaseLine {
  const quantity = parts.length;
  const held = ({ quantity: pieces }: StockPart): number => pieces ?? quantity;
  const cheapness = ({ price }: StockPart): number => price ?? Infinity;
  const enough = (each: StockPart): number => Math.min(held(each), quantity);
  const [row] = stock
    .filter((each) => isSuch(each, part))
    .toSorted((a, b) => enough(b) - enough(a) || cheapness(a) - cheapness(b) || 0);
  const price = row?.price ?? null;
  return {
    stock: row?.stock ?? null,
    what: soldWords(part),
    refs: parts.map(({ ref }) => ref),
    quantity,
    inDrawer: row?.quantity ?? null,
    toBuy: row === undefined ? quantity : quantity - enough(row),
    price,
    total: price === null ? null : price * quantity,
  };
}

/** A value as written twice: what decimal text and back may leave. */
const same = 1e-9;

/** The kind, value, build and rating of what is fitted, or its type. */
function isSuch(stock: StockPart, part: Part): boolean {
  if (part.kind === 'typed') return stock.kind === part.type.kind && stock.type === part.typeName;
  const value = mainValue(part);
  if (stock.kind !== part.kind || stock.value === undefined || value === null) return false;
  const build = 'build' in part ? part.build : undefined;
  return (
    Math.abs(stock.value - value) <= same * value &&
    (build === undefined || stock.build === build) &&
    (part.rated === undefined || stock.rated === part.rated)
  );
}
