import type { Diagnostic, Limits, NewPosition, State } from '@curvewright/board';
import type { CheckAnswer, Finding, StageSheet } from '@curvewright/verify';

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

export interface SheetView {
  readonly title: string;
  readonly channels: readonly string[];
  readonly limits: Limits;
  /** Drawn first; the last is the one on which the verdict rests. */
  readonly states: readonly StateNumbers[];
  /** A found state without a bias: what keeps it from one. */
  readonly unsolved: readonly Diagnostic[];
  readonly curves: readonly StateCurves[];
  readonly rows: readonly SheetRow[];
  /** Designators of the board's positions, twins together, in the board's order. */
  readonly positions: readonly (readonly string[])[];
  /** Null for a board alone. */
  readonly head: JobHead | null;
  /** Positions of the board that the job says nothing of; empty for a board alone. */
  readonly addable: readonly AddablePosition[];
  /** Null until the slower part has come (`told`). */
  readonly check: CheckAnswer | null;
}

/** The numbers of one state that are quick to find. */
export interface StateNumbers extends StageSheet {
  readonly state: State;
  /** Designators taken as drawn for want of a pulled part. */
  readonly assumed: readonly string[];
}

/** What a job says beside its tables; texts as written, null where it is silent. */
export interface JobHead {
  readonly model: string | null;
  readonly serial: string | null;
  readonly date: string | null;
  readonly technician: string | null;
  readonly complaint: string | null;
  readonly reminders: readonly string[];
}

export interface AddablePosition {
  /** Pair key where both channels are free. */
  readonly key: string;
  readonly refs: readonly string[];
  readonly kind: string;
  readonly drawn: string;
  /** What a new row says first: the drawn part, new. */
  readonly entry: NewPosition;
}

/** Deviation and gain of one state on the figure's grid, dB, by channel. */
export interface StateCurves {
  readonly state: State;
  /** The same for every state, and for what `drag` answers. */
  readonly hz: Float64Array;
  readonly deviationDb: readonly Float64Array[];
  readonly gainDb: readonly Float64Array[];
}

/** One row of the sheet: a position, or a pair of twins. */
export interface SheetRow {
  /** As the job writes its key: `C101/C102` or `R111`. */
  readonly key: string;
  readonly refs: readonly string[];
  /** `resistor`, `capacitor` …, or that of a type: `npn`, `opamp`. */
  readonly kind: string;
  readonly drawn: string;
  readonly pulled: string | null;
  readonly fitted: string | null;
  readonly why: string | null;
  readonly fields: readonly SheetField[];
  /** SI, where `drag` can move the part that stands here in the rebuilt state. */
  readonly movable: number | null;
  /** Of this row alone on the drawn board; null where nothing is fitted or no bias is found. */
  readonly effect: RowEffect | null;
  /** Those of `check` that name it; empty until that has come. */
  readonly findings: readonly Finding[];
}

export interface SheetField {
  /** Path inside the position, as in the file. */
  readonly path:
    | 'fit.value'
    | 'fit.build'
    | 'fit.type'
    | 'fit.rated'
    | 'pulled.value'
    | 'pulled.esr'
    /** Where the file writes the reading with its frequency. */
    | 'pulled.esr.value'
    | 'pulled.leakage'
    | 'why';
  readonly written: string | null;
  /** SI, where it is a quantity; what stands there where the file is silent. */
  readonly value: number | null;
  readonly unit: string | null;
  readonly choices: readonly string[] | null;
  /** Next preferred values, as written; null where there is no value. */
  readonly lower: string | null;
  readonly higher: string | null;
  /** Preferred values about a decade either way, ascending, what the slider stops at; null where nothing can be dragged. */
  readonly ladder: readonly Rung[] | null;
}

export interface Rung {
  readonly written: string;
  /** SI. */
  readonly value: number;
}

export interface RowEffect {
  readonly at20HzDb: number;
  readonly gainDb: number;
  readonly balanceDb: number | null;
  /** Of the A-weighted hiss referred to the input; null until `told` has come. */
  readonly hissDb: number | null;
  readonly node: string;
  readonly nodeMv: number;
}
