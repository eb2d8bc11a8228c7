import type { Place } from '../diagnostics.ts';
import type { Ratings, PartType } from '../part-type.ts';
import type { BodySize } from '../schema/part-schema.ts';

/** What a row of a drawer may be. */
export const stockKinds: readonly StockKind[] = [
  'resistor',
  'capacitor',
  'inductor',
  'trimmer',
  'npn',
  'pnp',
  'diode',
  'zener',
  'jfet-n',
  'jfet-p',
  'triode',
  'opamp',
];

export type StockKind = 'resistor' | 'capacitor' | 'inductor' | 'trimmer' | PartType['kind'];

/** One row of a drawer: a part that lies there, values in SI units. */
export interface StockPart {
  /** The shop's own code. */
  readonly stock: string;
  readonly kind: StockKind;
  readonly build?: string;
  /** Name of its type: of semiconductors and valves only. */
  readonly type?: string;
  /** Ω, F or H. */
  readonly value?: number;
  readonly tolerance?: { readonly minus: number; readonly plus: number };
  /** V of capacitors, W of resistors. */
  readonly rated?: number;
  /** Ω. */
  readonly esr?: number;
  readonly leakage?: number;
  /** tan δ. */
  readonly loss?: number;
  readonly body: BodySize;
  readonly caseLeads?: NonNullable<Ratings['caseLeads']>;
  /** Pieces; null where the drawer does not count them. */
  readonly quantity: number | null;
  /** Of one piece, in whatever currency the drawer keeps. */
  readonly price: number | null;
  readonly note?: string;
  /** What a job writes under `fit` for it: texts as they stand in the drawer. */
  readonly written: Readonly<Record<string, string | Readonly<Record<string, string>>>>;
  /** Columns that no computation knows, by name. */
  readonly others: Readonly<Record<string, string>>;
  readonly place: Place;
}
