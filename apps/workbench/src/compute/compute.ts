import type { CheckMemory, LiveStage } from '@curvewright/verify';
import type {
  Compute,
  Dragged,
  DragRequest,
  Glance,
  Opened,
  SlowKind,
  SlowOutcome,
  SlowRequest,
  SubjectText,
} from '../contract/compute.ts';
import { layOut, type Bench } from './bench.ts';
import { boardOfJob } from './job-paths.ts';
import { quickView } from './sheet-view.ts';
import { slowQueue } from './slow-queue.ts';

/** The bench's computing, with what it keeps from one call to the next. What the first view does without is fetched when it is asked for. */
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
    setTimeout(() => void readyToMove());
    return { revision, ok: true, view: quickView(laid.value) };
  }

  async function readyToMove(): Promise<LiveStage | null> {
    const { liveBench } = await import('./drag.ts');
    if (bench !== null && live === undefined) live = liveBench(bench);
    return live ?? null;
  }

  async function moved(request: DragRequest): Promise<Dragged> {
    const { drag } = await import('./drag.ts');
    return { revision: request.revision, live: drag(await readyToMove(), request) };
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
    drag: moved,
    edit: async (request) => (await import('./writing.ts')).edited(request),
    boardOf: (job) => Promise.resolve(boardOfJob(job)),
    jobFor: async ({ path, board, title, date }) => (await import('./writing.ts')).newJob(path, board, title, date),
    glance,
    slow,
    overtake(revision) {
      queue.overtake(revision);
      return Promise.resolve();
    },
  };
}
