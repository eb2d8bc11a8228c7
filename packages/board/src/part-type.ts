/** Datasheet figures of a part type, all in SI units; an absent figure is ideal. Currents and voltages of p-type parts are magnitudes. */
export type PartType = BipolarType | DiodeType | ZenerType | OpAmpType | JfetType | TriodeType;

/** A figure at a stated current: volts at amperes, hertz at amperes, or a plain ratio at amperes. */
export interface FigureAt {
  readonly value: number;
  readonly at: number;
}

/** The order of a case's leads and from where it is seen: the front has the flat towards the reader and the leads down. */
export interface CaseLeads {
  readonly order: string;
  readonly view: 'front' | 'below_flat_up' | 'below_flat_down';
}

/** How a case holds its leads: in a line, in a circle below a metal can, or with its metal as one of them. */
export type CaseForm = 'in_line' | 'metal_can' | 'power';

/** Ratings and case of every semiconductor and valve. V, A, W. */
export interface Ratings {
  readonly VCEO?: number;
  readonly VEBO?: number;
  readonly IC?: number;
  /** At 25 °C. */
  readonly Ptot?: number;
  /** Diodes: forward current and reverse voltage. */
  readonly IF?: number;
  readonly VR?: number;
  /** JFETs: drain to source. */
  readonly VDS?: number;
  /** Op-amps: between the supplies. */
  readonly VS?: number;
  /** Valves: anode to cathode. */
  readonly Va?: number;
  readonly caseLeads?: CaseLeads;
  /** Orders of other cases that go by the same type. */
  readonly otherCases?: readonly CaseLeads[];
  /** Absent: in a line. */
  readonly caseForm?: CaseForm;
}

export interface BipolarType extends Ratings {
  readonly kind: 'npn' | 'pnp';
  /** Typical DC current gain over collector current, ascending `at`; one point with at = 0 means constant. */
  readonly hFE: readonly FigureAt[];
  /** Lowest and highest hFE a healthy piece may have, at the first point's current. */
  readonly hFELow?: number;
  readonly hFEHigh?: number;
  /** Base-emitter voltage (V) at a collector current (A). */
  readonly VBE: FigureAt;
  /** V; absent: infinite. */
  readonly earlyVoltage?: number;
  /** Hz at a collector current; a plain fT has no `at` and is taken at the solved current. */
  readonly fT?: { readonly value: number; readonly at?: number };
  /** F. */
  readonly Cob?: number;
  /** F; absent: equal to Cob. */
  readonly Cib?: number;
  /** Ω. */
  readonly rbb?: number;
  /** Hz, where 1/f noise of the base current equals its shot noise. */
  readonly noiseCorner?: number;
  /** Collector-base leakage of an aged piece, A at 25 °C. */
  readonly ICBO?: number;
}

export interface DiodeType extends Ratings {
  readonly kind: 'diode';
  /** Forward volts at amperes: two points give the emission coefficient; one point goes with `ideality`. */
  readonly VF: readonly FigureAt[];
  /** Emission coefficient; used with one VF point; 1 where silent. */
  readonly ideality?: number;
}

export interface ZenerType extends Ratings {
  readonly kind: 'zener';
  readonly VZ: FigureAt;
  /** Ω at VZ's current; absent: as steep as kT/q allows. */
  readonly rz?: number;
  /** Forward drop; absent: 0.7 V at 10 mA. */
  readonly VF?: readonly FigureAt[];
}

export interface OpAmpType extends Ratings {
  readonly kind: 'opamp';
  /** Open-loop DC gain as a ratio; absent: infinite. */
  readonly gain?: number;
  /** Hz; absent: infinite. */
  readonly GBW?: number;
  /** Ω; absent: 0. */
  readonly Rout?: number;
  /** V the output stays away from the positive and the negative supply node. */
  readonly swing?: { readonly above: number; readonly below: number };
  /** V/√Hz and Hz. */
  readonly en?: number;
  readonly enCorner?: number;
  /** A/√Hz and Hz. */
  readonly in?: number;
  readonly inCorner?: number;
  /** Rejection as a ratio. */
  readonly PSRR?: number;
}

export interface JfetType extends Ratings {
  readonly kind: 'jfet-n' | 'jfet-p';
  /** A. */
  readonly IDSS: number;
  /** V, always a magnitude here (the file's −1 V of an n-channel part becomes 1). */
  readonly pinchOff: number;
  /** S, at IDSS. */
  readonly yos?: number;
  readonly Crss?: number;
  readonly Ciss?: number;
  readonly en?: number;
  readonly enCorner?: number;
}

export interface TriodeType extends Ratings {
  readonly kind: 'triode';
  readonly mu: number;
  /** Ω at the stated point. */
  readonly rp: number;
  readonly at: { readonly Va: number; readonly Ia: number };
  /** F. */
  readonly Cag?: number;
  readonly Cgk?: number;
  readonly Cak?: number;
  readonly en?: number;
}
