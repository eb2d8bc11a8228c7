import { computed, effect, untracked } from '@preact/signals';
import type { OutsideChange } from '../../contract/files.ts';
import { words } from '../words.ts';
import type { BenchServer } from './bench-server.ts';
import type { Session } from './session.ts';

/**
 * Keeps the session in step: with the disk, with the texts (each change is computed anew) and with the route. Returns how
 * to stop it. Without a route the only job of the folder is opened, else the list.
 */
export async function follow(session: Session, server: BenchServer): Promise<() => void> {
  const hangUp = server.watch(
    (change) => void takeOutside(session, change),
    (stands) => {
      session.isConnected.value = stands;
    },
  );
  await session.bench.fetch();
  if (session.route.peek().view === 'start') session.route.value = startingRoute(session);
  const stops = [hangUp, followRoute(session), followTexts(session)];
  return () => {
    for (const stop of stops) stop();
  };
}

function startingRoute({ bench }: Session): Session['route']['value'] {
  const jobs = bench.list.peek()?.files.filter(({ kind }) => kind === 'job') ?? [];
  const [only] = jobs;
  return jobs.length === 1 && only ? { view: 'sheet', path: only.path } : { view: 'list' };
}

function followRoute(session: Session): () => void {
  const path = computed(() => ('path' in session.route.value ? session.route.value.path : null));
  return effect(() => {
    const now = path.value;
    untracked(() => {
      session.hand.rest();
      session.rowInHand.value = null;
      session.subject.clear();
      if (now === null) void session.bench.look();
      else void open(session, now);
    });
  });
}

async function open({ files, subject }: Session, path: string): Promise<void> {
  const reply = await files.load(path);
  if (!reply.ok) subject.fail(words.noFile(path, reply.message));
}

function followTexts(session: Session): () => void {
  const { files, subject, file } = session;
  const boardPath = computed(() => subject.subject.value?.board.path);
  const boardText = computed(() => files.files.value.get(boardPath.value ?? '')?.text);
  const path = computed(() => file.value?.path);
  const text = computed(() => file.value?.text);
  return effect(() => {
    const [now, own, board] = [path.value, text.value, boardText.value];
    if (now === undefined || own === undefined) return;
    untracked(() => {
      const kind = kindOf(session, now);
      if (kind === null || subject.isOf(now, own, board)) return;
      void subject.refresh(now, kind).then((isLast) => {
        if (isLast) session.hand.rest();
      });
    });
  });
}

/** What can stand on a sheet; null for a drawer or a file of types. */
function kindOf({ bench }: Session, path: string): 'job' | 'board' | null {
  const kind = bench.list.peek()?.files.find((file) => file.path === path)?.kind;
  return kind === 'job' || kind === 'board' ? kind : null;
}

async function takeOutside(session: Session, change: OutsideChange): Promise<void> {
  const { files, edits, notice, bench, route } = session;
  const { path } = change;
  const done = await files.outside(change);
  if (done.kind === 'taken') {
    edits.record({ path, before: done.before, after: done.after, what: words.change.outside, mark: null });
    notice.value = words.changedOutside(path);
  } else if (done.kind === 'removed') {
    notice.value = words.removedOutside(path);
  }
  await bench.fetch();
  if (route.peek().view === 'list') await bench.look();
}
