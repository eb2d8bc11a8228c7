import type { Diagnostic, State } from '@curvewright/board';
import type { CheckAnswer } from '@curvewright/verify';

/** What the worker is given: texts as they stand in the page, with the revision that its answers carry back. */
export interface SubjectText {
  readonly revision: number;
  readonly job: TextOf | null;
  readonly board: TextOf;
}

export interface TextOf {
  readonly path: string;
  readonly text: string;
}

/** Every answer says which revision it is of; what is older than the page's is out of date. */
export type Opened =
  | { readonly revision: number; readonly ok: true; readonly view: SheetView }
  | { readonly revision: number; readonly ok: false; readonly diagnostics: readonly Diagnostic[] };

export interface SheetView {
  readonly title: string;
  readonly channels: readonly string[];
  readonly curves: readonly StateCurves[];
  readonly rows: readonly SheetRow[];
  /** Null until the slower part has come (`told`). */
  readonly check: CheckAnswer | null;
}

/** Deviation and gain of one state on the figure's grid, dB, by channel. */
export interface StateCurves {
  readonly state: State;
  readonly hz: Float64Array;
  readonly deviationDb: readonly Float64Array[];
  readonly gainDb: readonly Float64Array[];
}

/** One row of the sheet: a position, or a pair of twins. */
export interface SheetRow {
  /** As the job writes its key: `C101/C102` or `R111`. */
  readonly key: string;
  readonly refs: readonly string[];
  readonly kind: string;
  readonly drawn: string;
  readonly pulled: string | null;
  readonly fitted: string | null;
  readonly why: string | null;
  readonly fields: readonly SheetField[];
  /** Of this row alone on the drawn board; null where nothing is fitted or no bias is found. */
  readonly effect: RowEffect | null;
}

export interface SheetField {
  /** Path inside the position, as in the file. */
  readonly path:
    'fit.value' | 'fit.build' | 'fit.type' | 'fit.rated' | 'pulled.value' | 'pulled.esr' | 'pulled.leakage' | 'why';
  readonly written: string | null;
  /** SI, where it is a quantity. */
  readonly value: number | null;
  readonly unit: string | null;
  readonly choices: readonly string[] | null;
  /** Next preferred values, as written; null where there is no value. */
  readonly lower: string | null;
  readonly higher: string | null;
}

export interface RowEffect {
  readonly at20HzDb: number;
  readonly gainDb: number;
  readonly balanceDb: number | null;
  readonly hissDb: number | null;
  readonly node: string;
  readonly nodeMv: number;
}

/** A value under the hand: SI, of the fitted part in these positions. */
export interface DragRequest {
  readonly revision: number;
  readonly refs: readonly string[];
  readonly value: number;
}

export interface Dragged {
  readonly revision: number;
  /** Null where no bias is found. */
  readonly live: LiveCurves | null;
}

export interface LiveCurves {
  readonly deviationDb: readonly Float64Array[];
  readonly gainDb: readonly number[];
  readonly at20HzDb: readonly number[];
  readonly worstDb: readonly number[];
  readonly balanceDb: number | null;
}
