import type { Diagnostic } from '@curvewright/board';
import type { FitAnswer, PartShares, Stage, Steps } from '@curvewright/verify';
import type { SubjectText } from '../contract/sheet.ts';
import type { Views } from '../contract/views.ts';
import { layOut, type Bench } from './bench.ts';
import { drawn } from './drawn.ts';
import { choiceSteps } from './drawer-choice.ts';
import { fitOfStage, fittedPlace } from './fitted-place.ts';
import { slowQueue } from './slow-queue.ts';
import { triedOut } from './tried-out.ts';

/** Drawing, leads and choice, with what is kept from one call to the next. */
export function createViews(): Views {
  const queue = slowQueue();
  const fits = new WeakMap<Stage, FitAnswer>();
  const shares = new WeakMap<Stage, Map<string, PartShares | null>>();
  let bench: Bench | null = null;
  let choices = 0;

  type Answer<T> = T | { readonly revision: number; readonly ok: false; readonly diagnostics: readonly Diagnostic[] };

  function onBench<T>(subject: SubjectText, answer: (bench: Bench) => T): Answer<T> {
    const laid = layOut(subject, bench);
    if (!laid.ok) return { revision: subject.revision, ok: false, diagnostics: laid.diagnostics };
    bench = laid.value;
    return answer(bench);
  }

  return {
    draw: (request) => Promise.resolve(onBench(request.subject, (laid) => drawn(laid, request, shares))),
    fit: ({ subject, refs }) =>
      queue.runAside(function* (): Steps<Awaited<ReturnType<Views['fit']>>> {
        const laid = layOut(subject, bench);
        if (!laid.ok) return { revision: subject.revision, ok: false, diagnostics: laid.diagnostics };
        bench = laid.value;
        return fittedPlace(yield* fitOfStage(laid.value, fits), subject.revision, refs);
      }),
    async choose(request, progress) {
      const { revision } = request.subject;
      const done = await queue.run(
        ++choices,
        function* () {
          const laid = layOut(request.subject, bench);
          if (!laid.ok) return { revision, ok: false as const, diagnostics: laid.diagnostics };
          bench = laid.value;
          return yield* choiceSteps(laid.value, request);
        },
        (share) => {
          progress(revision, share);
        },
      );
      return done === null ? { revision, ok: false, diagnostics: null } : done.answer;
    },
    tryOut: (request) => Promise.resolve(onBench(request.subject, (laid) => triedOut(laid, request))),
  };
}
