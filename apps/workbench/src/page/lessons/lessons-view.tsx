import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import { lessonIds } from '@curvewright/verify';
import { teaching } from '../parts/teaching.ts';
import { useSession } from '../parts/session-context.ts';
import { LessonMenu } from './lesson-menu.tsx';
import { LessonSheet } from './lesson-sheet.tsx';
import { lessonsStore } from './lessons-store.ts';
import './lessons.css';
import { words } from './words.ts';

interface LessonsViewProps {
  readonly path: string;
  readonly lesson?: string | undefined;
}

/** The lessons on the board of the file in view: the list of them, or one. */
export function LessonsView({ path, lesson }: LessonsViewProps): JSX.Element {
  const session = useSession();
  const store = useMemo(() => lessonsStore(session, teaching()), [session]);
  const { subject, missing } = session.subject;
  const texts = subject.value;
  const chosen = lessonIds.find((id) => id === lesson);
  const board = texts?.board;
  return (
    <main id="main" class="lessons" tabIndex={-1}>
      {missing.value !== null && <p role="alert">{missing.value}</p>}
      {board === undefined ? (
        missing.value === null && <p class="pending">{words.computing}</p>
      ) : chosen === undefined ? (
        <LessonMenu store={store} path={path} board={board} />
      ) : (
        <LessonSheet key={`${chosen} ${board.path}`} store={store} path={path} board={board} id={chosen} />
      )}
    </main>
  );
}
