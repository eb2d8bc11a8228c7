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
      const wasLost = !session.isConnected.peek();
      session.isConnected.value = stands;
      if (stands && wasLost) void catchUp(session);
    },
  );
  await session.bench.fetch();
  if (session.route.peek().view === 'start') session.route.value = startingRoute(session);
  const stops = [hangUp, followRouteAndTexts(session)];
  return () => {
    for (const stop of stops) stop();
  };
}

function startingRoute({ bench }: Session): Session['route']['value'] {
  const jobs = bench.list.peek()?.files.filter(({ kind }) => kind === 'job') ?? [];
  const [only] = jobs;
  return jobs.length === 1 && only ? { view: 'sheet', path: only.path } : { view: 'list' };
}

/** One effect for both, so that a text that is there already is computed after what was shown has been cleared. */
function followRouteAndTexts(session: Session): () => void {
  const { files, subject, file, route } = session;
  const path = computed(() => ('path' in route.value ? route.value.path : null));
  const boardPath = computed(() => subject.subject.value?.board.path ?? '');
  const boardText = computed(() => files.files.value.get(boardPath.value)?.text);
  const text = computed(() => file.value?.text);
  let shown: string | null | undefined;
  return effect(() => {
    const [now, own, board] = [path.value, text.value, boardText.value];
    untracked(() => {
      if (now !== shown) turnTo(session, now);
      shown = now;
      const kind = now === null ? null : kindOf(session, now);
      if (now === null || kind === null || own === undefined || subject.isOf(now, own, board)) return;
      void subject.refresh(now, kind).then((isLast) => {
        if (isLast) session.hand.rest();
      });
    });
  });
}

function turnTo(session: Session, path: string | null): void {
  const { hand, rowInHand, notice, subject, bench } = session;
  hand.rest();
  rowInHand.value = null;
  notice.value = null;
  subject.clear();
  if (path === null) void bench.fetch().then(() => bench.look());
  else void open(session, path);
}

async function open({ files, subject }: Session, path: string): Promise<void> {
  const reply = await files.load(path);
  if (!reply.ok) subject.fail(words.noFile(path, reply.message));
}

/** What can stand on a sheet; null for a drawer or a file of types. */
function kindOf({ bench }: Session, path: string): 'job' | 'board' | null {
  const kind = bench.list.peek()?.files.find((file) => file.path === path)?.kind;
  return kind === 'job' || kind === 'board' ? kind : null;
}

async function takeOutside(session: Session, change: OutsideChange): Promise<void> {
  await compareWithDisk(session, change);
  await session.bench.fetch();
  if (session.route.peek().view === 'list') await session.bench.look();
}

/** What happened while the line was broken is not told afterwards; what could not be saved is saved now. */
async function catchUp(session: Session): Promise<void> {
  const { bench, files } = session;
  await bench.fetch();
  const entries = bench.list.peek()?.files ?? [];
  for (const { path, saving } of files.files.peek().values()) {
    const version = entries.find((entry) => entry.path === path)?.version ?? null;
    await compareWithDisk(session, { path, version });
    if (saving.state === 'refused') files.saveNow(path);
  }
}

async function compareWithDisk({ files, edits, notice }: Session, change: OutsideChange): Promise<void> {
  const { path } = change;
  const done = await files.outside(change);
  if (done.kind === 'taken') {
    edits.record({ path, before: done.before, after: done.after, what: words.change.outside, mark: null });
    notice.value = words.changedOutside(path);
  } else if (done.kind === 'removed') {
    notice.value = words.removedOutside(path);
  }
}
