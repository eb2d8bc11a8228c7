import type { Diagnostic, State } from '@curvewright/board';
import type { Only } from '@curvewright/report';
import type { CandidateAnswer, Level, PlaceAnswer } from '@curvewright/verify';
import type { LiveCurves } from './compute.ts';
import type { SubjectText, TextOf } from './sheet.ts';

/**
 * What a worker file of its own answers, fetched when the drawing is first shown or a row first opened: what it computes holds up neither
 * the curve under the hand nor the verdict. Every answer says which revision it is of.
 */
export interface Views {
  /** One channel's circuit, drawn. */
  draw(request: DrawRequest): Promise<Drawn>;
  /** How what is fitted in these positions goes in. Takes about a second on a new text. */
  fit(request: PlaceRequest): Promise<Fitted>;
  /** The drawer's parts for these positions, ranked; a newer request makes one in hand come back as overtaken. */
  choose(request: ChooseRequest, progress: (revision: number, share: number) => void): Promise<Chosen>;
  /** The job with a part of the drawer fitted, and its curves. */
  tryOut(request: TryRequest): Promise<Tried>;
}

interface Refused {
  readonly revision: number;
  readonly ok: false;
  readonly diagnostics: readonly Diagnostic[];
}

export interface DrawRequest {
  readonly subject: SubjectText;
  /** One that the subject does not have: the one on which its verdict rests. */
  readonly state: State;
  readonly channel: string;
  readonly title: string;
  readonly volts: boolean;
  readonly currents: boolean;
  /** A figure that parts have shares in, or a node by its bare name. */
  readonly shade: string | null;
  readonly only: Only | null;
}

export type Drawn =
  | {
      readonly revision: number;
      readonly ok: true;
      /** SVG in the page's inks; each part is a group with `data-ref`. */
      readonly svg: string;
      /** The drawing in sentences. */
      readonly text: readonly string[];
      readonly parts: readonly DrawnPart[];
      /** Bare names of the channel's nodes. */
      readonly nodes: readonly string[];
    }
  | Refused;

export interface DrawnPart {
  readonly ref: string;
  /** Designator of the place it stands in: that of the whole string for one of several diodes. */
  readonly position: string;
  /** Its middle, in squares of the drawing. */
  readonly x: number;
  readonly y: number;
  /** SI, in the state that `drag` moves; null for a part without a value. */
  readonly value: number | null;
}

export interface PlaceRequest {
  readonly subject: SubjectText;
  readonly refs: readonly string[];
}

export type Fitted =
  | {
      readonly revision: number;
      readonly ok: true;
      /** SVG in the page's inks, each way of going in once. */
      readonly drawings: readonly { readonly refs: readonly string[]; readonly svg: string }[];
      /** Leads, polarity and room, in words. */
      readonly lines: readonly FitLine[];
    }
  | Refused;

export interface FitLine {
  readonly level: Level;
  readonly cause: string;
  /** Null where nothing is to be done. */
  readonly next: string | null;
}

export interface ChooseRequest extends PlaceRequest {
  readonly drawer: TextOf;
  /** Types that are kept beside the drawer. */
  readonly types: TextOf | null;
}

export type Chosen =
  | {
      readonly revision: number;
      readonly ok: true;
      readonly place: PlaceAnswer;
      readonly leftOut: readonly Diagnostic[];
    }
  | Refused
  | { readonly revision: number; readonly ok: false; readonly diagnostics: null };

export interface TryRequest extends PlaceRequest {
  readonly fit: CandidateAnswer['fit'];
}

export type Tried =
  { readonly revision: number; readonly ok: true; readonly text: string; readonly live: LiveCurves } | Refused;
