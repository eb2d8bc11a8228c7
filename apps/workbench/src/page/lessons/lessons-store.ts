import { signal, type ReadonlySignal } from '@preact/signals';
import type { LessonId } from '@curvewright/verify';
import type { FileText } from '../../contract/files.ts';
import type { TextOf } from '../../contract/compute.ts';
import type { TeachAnswers, TeachKind, Teaching, TeachOutcome } from '../../contract/teach.ts';
import type { Session } from '../store/session.ts';
import { keepDone } from './keep-record.ts';
import { readRecord, recordPath, type Done } from './record.ts';

/** What the lessons of a page know; made anew for every board. */
export interface LessonsStore {
  /** What was done, of every board; null before the folder has answered. */
  readonly record: ReadonlySignal<readonly Done[] | null>;
  /** Why the last row is not in the folder. */
  readonly trouble: ReadonlySignal<string | null>;
  ask<K extends TeachKind>(kind: K, board: TextOf, lesson: LessonId, ref?: string | null): Promise<TeachOutcome<K>>;
  keep(done: Done): Promise<void>;
  /** Boards of the folder that have the parts for a lesson, but for this one. */
  boardsWith(lesson: LessonId, but: string): Promise<readonly string[]>;
}

export function lessonsStore({ server, bench }: Session, teaching: Teaching): LessonsStore {
  const record = signal<readonly Done[] | null>(null);
  const trouble = signal<string | null>(null);
  let base: FileText | null = null;
  let last: Promise<unknown> = Promise.resolve();

  async function fetchRecord(): Promise<void> {
    if (bench.list.peek() === null) await bench.fetch();
    const isThere = bench.list.peek()?.files.some(({ path }) => path === recordPath) === true;
    const reply = isThere ? await server.read(recordPath) : null;
    base = reply?.ok === true ? reply.value : null;
    record.value = readRecord(base?.text ?? '');
  }
  last = fetchRecord();

  async function offers(path: string): Promise<TeachAnswers['offers']> {
    const reply = await server.read(path);
    if (!reply.ok) return [];
    const { text } = reply.value;
    const outcome = await teaching.teach({ kind: 'offers', board: { path, text }, lesson: 'leg', ref: null });
    return outcome.ok ? outcome.answer : [];
  }

  return {
    record,
    trouble,
    ask: (kind, board, lesson, ref = null) => teaching.teach({ kind, board, lesson, ref }),
    async keep(done) {
      const others = (record.peek() ?? []).filter(
        ({ lesson, board }) => lesson !== done.lesson || board !== done.board,
      );
      record.value = [...others, done];
      // One after the other: each builds on what the one before left.
      const kept = last.then(() => keepDone(server, base, done));
      last = kept;
      const isNew = base === null;
      ({ base, trouble: trouble.value } = await kept);
      // The folder has a file more.
      if (isNew) await bench.fetch();
    },
    async boardsWith(lesson, but) {
      const boards = bench.list.peek()?.files.filter(({ kind, path }) => kind === 'board' && path !== but) ?? [];
      const found: string[] = [];
      for (const { path } of boards) if ((await offers(path)).includes(lesson)) found.push(path);
      return found;
    },
  };
}
