import type { Diagnostic } from '@curvewright/board';
import type { CardPage, Lesson, NoLesson } from '@curvewright/report';
import type { LessonId } from '@curvewright/verify';
import type { Heard, HearRequest } from './hear.ts';
import type { TextOf } from './sheet.ts';

/**
 * What the second worker file answers, which lessons and listening fetch when they are first shown: so neither weighs on the sheet, nor
 * does it wait for them.
 */
export interface Teaching {
  /** A part of a lesson, on the drawn board; takes a second or two. */
  teach<K extends TeachKind>(request: TeachRequest<K>): Promise<TeachOutcome<K>>;
  /** Every state as filters and noises to listen to. */
  hear(request: HearRequest): Promise<Heard>;
}

/** What a lesson asks of the drawn board. */
export interface TeachAnswers {
  /** The lessons that the board has the parts for. */
  readonly offers: readonly LessonId[];
  readonly lesson: Lesson | NoLesson;
  /** The fault card that goes with a lesson; null where no fault shows on this board. */
  readonly card: CardPage | null;
}

export type TeachKind = keyof TeachAnswers;

export interface TeachRequest<K extends TeachKind = TeachKind> {
  readonly kind: K;
  readonly board: TextOf;
  /** Of no matter to `offers`. */
  readonly lesson: LessonId;
  /** The part that the lesson is about. */
  readonly ref: string | null;
}

export type TeachOutcome<K extends TeachKind = TeachKind> =
  | { readonly ok: true; readonly answer: TeachAnswers[K] }
  | { readonly ok: false; readonly diagnostics: readonly Diagnostic[] };
