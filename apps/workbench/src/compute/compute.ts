import { editJob } from '@curvewright/board';
import type { CheckMemory, LiveStage } from '@curvewright/verify';
import type {
  Compute,
  Dragged,
  DragRequest,
  Edited,
  EditRequest,
  Glance,
  Opened,
  SlowKind,
  SlowOutcome,
  SlowRequest,
  SubjectText,
} from '../contract/compute.ts';
import { layOut, type Bench } from './bench.ts';
import { drag, liveBench } from './drag.ts';
import { boardOfJob, newJob } from './job-paths.ts';
import { quickView } from './sheet-view.ts';
import { slowQueue } from './slow-queue.ts';

/** The bench's computing, with what it keeps from one call to the next. */
export function createCompute(): Compute {
  const queue = slowQueue();
  const memory: CheckMemory = new WeakMap();
  let bench: Bench | null = null;
  /** Undefined until it is made. */
  let live: LiveStage | null | undefined;

  function take(subject: SubjectText): ReturnType<typeof layOut> {
    const laid = layOut(subject, bench);
    if (laid.ok && laid.value !== bench) {
      bench = laid.value;
      live = undefined;
    }
    return laid;
  }

  function open(subject: SubjectText): Opened {
    const { revision } = subject;
    const laid = take(subject);
    if (!laid.ok) return { revision, ok: false, diagnostics: laid.diagnostics };
    // Once the answer is out: the first move shall find the stage ready.
    setTimeout(readyToMove);
    return { revision, ok: true, view: quickView(laid.value) };
  }

  function readyToMove(): LiveStage | null {
    if (bench !== null && live === undefined) live = liveBench(bench);
    return live ?? null;
  }

  function moved(request: DragRequest): Dragged {
    return { revision: request.revision, live: drag(readyToMove(), request) };
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
        const laid = take(subject);
        return laid.ok ? yield* slowSteps(laid.value, { kind, state }, memory) : laid;
      },
      (share) => {
        progress(revision, share);
      },
    );
    if (done === null) return { revision, outcome: 'overtaken' };
    return 'answer' in done.answer
      ? { revision, outcome: 'answered', answer: done.answer.answer }
      : { revision, outcome: 'refused', diagnostics: done.answer.diagnostics };
  }

  async function glance(subject: SubjectText): Promise<Glance> {
    const { glanceSteps } = await import('./glance.ts');
    return queue.runAside(() => glanceSteps(subject));
  }

  return {
    open: (subject) => Promise.resolve(open(subject)),
    drag: (request) => Promise.resolve(moved(request)),
    edit: (request) => Promise.resolve(edited(request)),
    boardOf: (job) => Promise.resolve(boardOfJob(job)),
    jobFor: ({ path, board, title, date }) => Promise.resolve(newJob(path, board, title, date)),
    glance,
    slow,
    overtake(revision) {
      queue.overtake(revision);
      return Promise.resolve();
    },
  };
}

function edited({ revision, job, edit }: EditRequest): Edited {
  const text = editJob(job.text, job.path, edit);
  return text.ok ? { revision, ok: true, text: text.value } : { revision, ok: false, diagnostics: text.diagnostics };
}
