import { editJob } from '@curvewright/board';
import type { CheckMemory, LiveStage } from '@curvewright/verify';
import type { Compute, Dragged, DragRequest, Edited, EditRequest, Opened, SubjectText } from '../contract/compute.ts';
import type { SlowKind, SlowOutcome, SlowRequest } from '../contract/slow.ts';
import { layOut, type Bench } from './bench.ts';
import { drag, liveBench } from './drag.ts';
import { quickView } from './sheet-view.ts';
import { slowQueue } from './slow-queue.ts';

/** The bench's computing, with what it keeps from one call to the next. */
export function createCompute(): Compute {
  const queue = slowQueue();
  const memory: CheckMemory = new WeakMap();
  let bench: Bench | null = null;
  /** Undefined until the first move asks for it. */
  let live: LiveStage | null | undefined;

  function open(subject: SubjectText): Opened {
    const { revision } = subject;
    const laid = layOut(subject, bench);
    if (!laid.ok) return { revision, ok: false, diagnostics: laid.diagnostics };
    if (laid.value !== bench) live = undefined;
    bench = laid.value;
    return { revision, ok: true, view: quickView(bench) };
  }

  function moved(request: DragRequest): Dragged {
    if (bench !== null) live ??= liveBench(bench);
    return { revision: request.revision, live: drag(live ?? null, request) };
  }

  function edited({ revision, job, edit }: EditRequest): Edited {
    const text = editJob(job.text, job.path, edit);
    return text.ok
      ? { revision, ok: true, text: text.value }
      : { revision, ok: false, diagnostics: text.diagnostics };
  }

  async function slow<K extends SlowKind>(
    { kind, subject, state }: SlowRequest<K>,
    progress: (revision: number, share: number) => void,
  ): Promise<SlowOutcome<K>> {
    const { revision } = subject;
    const { slowSteps } = await import('./slow-answers.ts');
    const done = await queue.run(
      revision,
      function* () {
        const laid = layOut(subject, bench);
        if (!laid.ok) return laid;
        if (laid.value !== bench) live = undefined;
        bench = laid.value;
        return yield* slowSteps(bench, { kind, state }, memory);
      },
      (share) => {
        progress(revision, share);
      },
    );
    if (done === null) return { revision, outcome: 'overtaken' };
    const { answer } = done;
    return 'answer' in answer
      ? { revision, outcome: 'answered', answer: answer.answer }
      : { revision, outcome: 'refused', diagnostics: answer.diagnostics };
  }

  return {
    open: (subject) => Promise.resolve(open(subject)),
    drag: (request) => Promise.resolve(moved(request)),
    edit: (request) => Promise.resolve(edited(request)),
    slow,
    overtake(revision) {
      queue.overtake(revision);
      return Promise.resolve();
    },
  };
}
