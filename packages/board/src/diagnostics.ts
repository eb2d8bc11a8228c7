/** A place in a file: line and column count from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** Every fault a file or a circuit can have. The list is closed: a test holds one broken file for each code. */
export type DiagnosticCode =
  | 'yaml-syntax'
  | 'not-a-mapping'
  | 'missing-key'
  | 'unknown-key'
  | 'wrong-version'
  | 'wrong-form'
  | 'bare-number'
  | 'comma-decimal'
  | 'unknown-unit'
  | 'wrong-unit'
  | 'not-a-quantity'
  | 'out-of-range'
  | 'not-a-designator'
  | 'designator-twice'
  | 'channel-mismatch'
  | 'bare-channel-node'
  | 'unknown-node'
  | 'unknown-type'
  | 'type-leads'
  | 'unknown-position'
  | 'fit-mismatch'
  | 'lead-order'
  | 'transit-time'
  | 'leads-on-one-node'
  | 'floating-node'
  | 'no-dc-path'
  | 'rail-loop'
  | 'no-bias'
  | 'unreadable-file'
  | 'unknown-cartridge'
  | 'unknown-rail';

/** What is wrong, where, and what to write instead. */
export interface Diagnostic {
  readonly code: DiagnosticCode;
  readonly place: Place;
  /** One line: what is wrong; what to write. Names parts, leads and nodes as the file spells them. */
  readonly message: string;
}

/** Either a value, or everything that is wrong with its source; never both. */
export type Outcome<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly diagnostics: readonly Diagnostic[] };
