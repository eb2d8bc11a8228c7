import type { Diagnostic, State } from '@curvewright/board';
import type { SubjectText } from './sheet.ts';

export interface HearRequest {
  readonly subject: SubjectText;
  /** Of what plays, Hz. */
  readonly sampleRate: number;
}

export type Heard =
  | { readonly ok: true; readonly states: readonly HeardState[] }
  | { readonly ok: false; readonly diagnostics: readonly Diagnostic[] };

/** What a state does to a record that is right already. */
export interface HeardState {
  readonly state: State;
  /** dB that every channel is moved by, so that pink noise sounds as loud (A-weighted) as unfiltered; in the filters already. */
  readonly matchDb: number;
  readonly channels: readonly HeardChannel[];
}

export interface HeardChannel {
  readonly name: string;
  /** Impulse response of the deviation with the channel's own gain against the mean of both, minimum phase. */
  readonly filter: Float32Array<ArrayBuffer>;
  /** Loops without a seam, for a programme of 1 rms; with the state's `matchDb` in them. Null where the board makes none. */
  readonly hiss: Float32Array<ArrayBuffer>;
  readonly hum: Float32Array<ArrayBuffer> | null;
  /** rms of both over the programme, dB; null where there is none. */
  readonly hissDb: number;
  readonly humDb: number | null;
}
