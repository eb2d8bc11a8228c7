import type { LessonId } from '@curvewright/verify';
import type { TextOf } from '../../contract/compute.ts';
import type { LessonsStore } from './lessons-store.ts';

/** One lesson on one board. */
export interface LessonProps {
  readonly store: LessonsStore;
  /** Of the file in view. */
  readonly path: string;
  readonly board: TextOf;
  readonly id: LessonId;
}
