import { useEffect, useState } from 'preact/hooks';
import type { TextOf } from '../../contract/compute.ts';
import type { TeachKind, TeachOutcome } from '../../contract/teach.ts';
import type { LessonId } from '@curvewright/verify';
import type { LessonsStore } from './lessons-store.ts';

/** What the worker answers; null until then. Asked anew when the board's text changes. */
export function useAnswer<K extends TeachKind>(
  store: LessonsStore,
  kind: K,
  board: TextOf,
  lesson: LessonId,
  ref: string | null = null,
): TeachOutcome<K> | null {
  const [outcome, setOutcome] = useState<TeachOutcome<K> | null>(null);
  const { path, text } = board;
  useEffect(() => {
    let isWanted = true;
    setOutcome(null);
    void store.ask(kind, { path, text }, lesson, ref).then((answer: TeachOutcome<K>): void => {
      if (isWanted) setOutcome(answer);
    });
    return () => {
      isWanted = false;
    };
  }, [store, kind, path, text, lesson, ref]);
  return outcome;
}
