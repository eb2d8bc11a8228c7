import type { JSX } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import type { SheetRow } from '../../contract/compute.ts';
import type { Views } from '../../contract/views.ts';
import { useSession } from '../parts/session-context.ts';
import { Trouble } from '../sheet/trouble.tsx';
import { Candidates } from './candidates.tsx';
import { drawerStore, type DrawerStore } from './drawer-store.ts';
import { words } from './words.ts';

/** The drawer beside a row: looked in when it is asked for, and anew with every change of the job while it is open. */
export function Drawer({ row, views }: { readonly row: SheetRow; readonly views: Views }): JSX.Element {
  const session = useSession();
  const store = useMemo(() => drawerStore(session, views), [session, views]);
  const texts = session.subject.subject.value;
  const isOpen = store.found.value !== null;
  useEffect(() => {
    if (isOpen && texts !== null) void store.look(texts, row.refs);
  }, [texts]);
  useEffect(
    () => () => {
      store.close();
    },
    [store],
  );
  return (
    <section class="drawer" aria-label={words.drawer}>
      <h3>{words.drawer}</h3>
      <button
        type="button"
        aria-expanded={isOpen}
        onClick={() => {
          if (isOpen) store.close();
          else if (texts !== null) void store.look(texts, row.refs);
        }}
      >
        {isOpen ? words.putBack : words.look}
      </button>
      <Found store={store} />
    </section>
  );
}

function Found({ store }: { readonly store: DrawerStore }): JSX.Element | null {
  const found = store.found.value;
  switch (found?.is) {
    case undefined:
      return null;
    case 'computing':
      return (
        <p class="pending" role="status">
          {words.ranking(found.share)}
        </p>
      );
    case 'missing':
      return <p>{found.why}</p>;
    case 'refused':
      return <Trouble title={words.cannot} diagnostics={found.diagnostics} />;
    case 'found':
      return (
        <>
          <Candidates store={store} place={found.place} />
          {found.leftOut.length > 0 && (
            <Trouble title={words.leftOut(found.leftOut.length)} diagnostics={found.leftOut} />
          )}
        </>
      );
  }
}
