import { circuitOf, readDrawer, readTypes, type Diagnostic } from '@curvewright/board';
import { choiceSetting, chooseSteps, placeNamed, type Steps } from '@curvewright/verify';
import type { Chosen, ChooseRequest } from '../contract/views.ts';
import type { Bench } from './bench.ts';

/** The drawer's parts for a row's place, the first judged by every limit. */
export function* choiceSteps({ staged, subject: { job } }: Bench, request: ChooseRequest): Steps<Chosen> {
  const { subject, refs, drawer, types } = request;
  const { revision } = subject;
  const refused = (diagnostics: readonly Diagnostic[]): Chosen => ({ revision, ok: false, diagnostics });
  const read = readDrawer(drawer.text, drawer.path);
  if (!read.ok) return refused(read.diagnostics);
  const beside = types === null ? null : readTypes(types.text, types.path);
  const rebuilt = job === null ? undefined : circuitOf(job, 'rebuilt')?.circuit;
  const [ref] = refs;
  const place = job === null || ref === undefined ? null : placeNamed(ref, job, rebuilt ?? job.board.circuit);
  if (place === null) {
    const message = `the board has no position ${refs.join('/')}; compare the designators of job and board`;
    const file = subject.job?.path ?? subject.board.path;
    return refused([{ code: 'unknown-position', place: { file, line: 1, column: 1 }, message }]);
  }
  const stock = { stock: read.value.stock, types: beside?.ok === true ? beside.value : {} };
  const found = yield* chooseSteps(place, choiceSetting(staged, stock, [place]), { thorough: true });
  return {
    ...{ revision, ok: true, place: found },
    leftOut: [...read.value.faults, ...(beside?.ok === false ? beside.diagnostics : [])],
  };
}
