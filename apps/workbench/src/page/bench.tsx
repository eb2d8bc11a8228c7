import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { Later } from './parts/later.tsx';
import { Masthead } from './parts/masthead.tsx';
import { Notice } from './parts/notice.tsx';
import { SessionContext } from './parts/session-context.ts';
import { Sheet } from './sheet/sheet.tsx';
import type { Session } from './store/session.ts';
import { words } from './words.ts';

const loadConflict = async () => (await import('./parts/conflict.tsx')).Conflict;
const loadList = async () => (await import('./bench-list/bench-list.tsx')).BenchListView;
const loadText = async () => (await import('./text-view.tsx')).TextView;
const loadEar = async () => (await import('./ear/ear-view.tsx')).EarView;
const loadLessons = async () => (await import('./lessons/lessons-view.tsx')).LessonsView;

/** The whole page. */
export function Bench({ session }: { session: Session }): JSX.Element {
  useUndoKeys(session);
  useLeaveWarning(session);
  const file = session.file.value;
  return (
    <SessionContext.Provider value={session}>
      <a class="skip" href="#main" onClick={skip}>
        {words.skip}
      </a>
      <Masthead />
      <Notice />
      {file?.saving.state === 'conflict' && <Later load={loadConflict} file={file} theirs={file.saving.theirs} />}
      <View session={session} />
    </SessionContext.Provider>
  );
}

function View({ session }: { session: Session }): JSX.Element | null {
  const route = session.route.value;
  switch (route.view) {
    case 'start':
      return session.bench.trouble.value === null ? null : <p role="alert">{session.bench.trouble.value}</p>;
    case 'list':
      return <Later key="list" load={loadList} />;
    case 'text':
      return <Later key="text" load={loadText} path={route.path} />;
    case 'ear':
      return <Later key="ear" load={loadEar} path={route.path} />;
    case 'lessons':
      return <Later key="lessons" load={loadLessons} path={route.path} lesson={route.lesson} />;
    case 'sheet':
      return <Sheet />;
  }
}

/** The address's fragment is the route, so the link cannot be followed as one. */
function skip(event: MouseEvent): void {
  event.preventDefault();
  document.getElementById('main')?.focus();
}

/** Ctrl or Cmd with Z, Shift-Z or Y; what is being written in a field, or in the text view, has its own. */
function useUndoKeys({ undo, redo }: Session): void {
  useEffect(() => {
    function onKey(event: KeyboardEvent): void {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const key = event.key.toLowerCase();
      if (key !== 'z' && key !== 'y') return;
      const { target } = event;
      if (target instanceof HTMLElement && (target.isContentEditable || target.dataset.draft === 'true')) return;
      event.preventDefault();
      if (key === 'y' || event.shiftKey) redo();
      else undo();
    }
    window.addEventListener('keydown', onKey);
    return () => {
      window.removeEventListener('keydown', onKey);
    };
  }, [undo, redo]);
}

function useLeaveWarning({ files }: Session): void {
  useEffect(() => {
    function onLeave(event: BeforeUnloadEvent): void {
      const isUnsaved = [...files.files.peek().values()].some(({ saving }) => saving.state !== 'saved');
      if (isUnsaved) event.preventDefault();
    }
    window.addEventListener('beforeunload', onLeave);
    return () => {
      window.removeEventListener('beforeunload', onLeave);
    };
  }, [files]);
}
