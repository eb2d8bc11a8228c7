import type { Diagnostic } from '@curvewright/board';
import type { CardPage, Lesson, NoLesson } from '@curvewright/report';
import type { LessonId } from '@curvewright/verify';
import type { TextOf } from './sheet.ts';

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
