import type { DiagnosticCode } from './diagnostics.ts';
import type { PartType } from './part-type.ts';

/** What a swap may draw on beside its own position. */
export interface Supply {
  readonly types: Readonly<Record<string, PartType>>;
  /** The lead order of the position's holes, where the board states one. */
  readonly holes?: string;
}

/** Takes down a fault at one of a part's keys, spelled as in the file; at the part itself where it has no such key. */
export type Refuse = (code: DiagnosticCode, key: string, message: string) => void;
