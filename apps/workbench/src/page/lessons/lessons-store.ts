import { signal, type ReadonlySignal } from '@preact/signals';
import type { LessonId } from '@curvewright/verify';
import type { Compute, TeachAnswers, TeachKind, TeachOutcome, TextOf } from '../../contract/compute.ts';
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

export function lessonsStore({ server, computers, bench }: Session): LessonsStore {
  const record = signal<readonly Done[] | null>(null);
  const trouble = signal<string | null>(null);
  const { teach }: Pick<Compute, 'teach'> = computers.quick;

  async function fetchRecord(): Promise<void> {
    const reply = await server.read(recordPath);
    record.value = reply.ok ? readRecord(reply.value.text) : [];
  }
  void fetchRecord();

  async function offers(path: string): Promise<TeachAnswers['offers']> {
    const reply = await server.read(path);
    if (!reply.ok) return [];
    const { text } = reply.value;
    // The quick worker keeps the board of the lesson in hand.
    const outcome = await computers.slow.teach({ kind: 'offers', board: { path, text }, lesson: 'leg', ref: null });
    return outcome.ok ? outcome.answer : [];
  }

  return {
    record,
    trouble,
    ask: (kind, board, lesson, ref = null) => teach({ kind, board, lesson, ref }),
    async keep(done) {
      const others = (record.peek() ?? []).filter(
        ({ lesson, board }) => lesson !== done.lesson || board !== done.board,
      );
      record.value = [...others, done];
      trouble.value = await keepDone(server, done);
    },
    async boardsWith(lesson, but) {
      const boards = bench.list.peek()?.files.filter(({ kind, path }) => kind === 'board' && path !== but) ?? [];
      const found: string[] = [];
      for (const { path } of boards) if ((await offers(path)).includes(lesson)) found.push(path);
      return found;
    },
  };
}
