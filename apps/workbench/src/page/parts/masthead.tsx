import type { JSX } from 'preact';
import type { OpenFile } from '../store/open-files.ts';
import type { Route } from '../store/route.ts';
import { fragmentOf } from '../store/route.ts';
import { words } from '../words.ts';
import { useSession } from './session-context.ts';

/** The line above every view: where one is, undo and redo, whether all is saved. */
export function Masthead(): JSX.Element {
  const session = useSession();
  const route = session.route.value;
  const { done, undone } = session.edits.history.value;
  const last = done.at(-1);
  const next = undone.at(-1);
  return (
    <header class="masthead">
      <nav aria-label={words.bench}>
        <span class="wordmark">{words.bench}</span>
        <RouteLink to={{ view: 'list' }} isHere={route.view === 'list'} text={words.list} />
        {'path' in route && (
          <>
            <RouteLink to={{ ...route, view: 'sheet' }} isHere={route.view === 'sheet'} text={words.sheet} />
            <RouteLink to={{ ...route, view: 'text' }} isHere={route.view === 'text'} text={words.text} />
            <RouteLink to={{ ...route, view: 'ear' }} isHere={route.view === 'ear'} text={words.ear} />
            <RouteLink
              to={{ view: 'lessons', path: route.path }}
              isHere={route.view === 'lessons'}
              text={words.lessons}
            />
          </>
        )}
      </nav>
      <div class="masthead-acts">
        {session.file.value !== null && <SavingState file={session.file.value} />}
        {last && (
          <button type="button" class="quiet" title={words.undoStep(last.what)} onClick={session.undo}>
            {words.undo}
          </button>
        )}
        {next && (
          <button type="button" class="quiet" title={words.redoStep(next.what)} onClick={session.redo}>
            {words.redo}
          </button>
        )}
      </div>
    </header>
  );
}

function RouteLink({ to, isHere, text }: { to: Route; isHere: boolean; text: string }): JSX.Element {
  return (
    <a href={fragmentOf(to)} aria-current={isHere ? 'page' : undefined}>
      {text}
    </a>
  );
}

function SavingState({ file: { path, saving } }: { file: OpenFile }): JSX.Element {
  const { files } = useSession();
  if (saving.state !== 'refused') return <span class="saving">{words.saving[saving.state]}</span>;
  return (
    <span class="saving" role="alert">
      {words.notSaved(saving.message)}{' '}
      <button
        type="button"
        class="quiet"
        onClick={() => {
          files.saveNow(path);
        }}
      >
        {words.saveAgain}
      </button>
    </span>
  );
}
