import { mergeLimits, readBoard, type Diagnostic } from '@curvewright/board';
import { cardPage, lessonPage } from '@curvewright/report';
import { gainReader, lessonCard, offeredLessons, solveStage, type LessonBench } from '@curvewright/verify';
import type { Compute, TeachAnswers, TeachKind, TeachOutcome, TeachRequest } from '../contract/compute.ts';

type Laid =
  | { readonly ok: true; readonly bench: LessonBench }
  | { readonly ok: false; readonly diagnostics: readonly Diagnostic[] };

const kinds: { readonly [K in TeachKind]: (bench: LessonBench, request: TeachRequest) => TeachAnswers[K] } = {
  offers: offeredLessons,
  lesson: (bench, { lesson }) => lessonPage(bench, lesson),
  card: (bench, { lesson, ref }) => {
    const card = lessonCard(bench, lesson, ref);
    return card === null ? null : cardPage(card);
  },
};

/** Gives lessons; the last board stays solved. */
export function createTeaching(): Compute['teach'] {
  let last: { readonly text: string; readonly laid: Laid } | null = null;

  return <K extends TeachKind>(request: TeachRequest<K>): Promise<TeachOutcome<K>> => {
    const { text } = request.board;
    if (last?.text !== text) last = { text, laid: layOut(request) };
    const { laid } = last;
    const outcome: TeachOutcome<K> = laid.ok
      ? { ok: true, answer: kinds[request.kind](laid.bench, request) }
      : { ok: false, diagnostics: laid.diagnostics };
    return Promise.resolve(outcome);
  };
}

function layOut({ board: { path, text } }: TeachRequest): Laid {
  const board = readBoard(text, path);
  if (!board.ok) return board;
  const stage = solveStage(board.value.circuit);
  if (!stage.ok) return stage;
  return {
    ok: true,
    bench: { stage: stage.value, reader: gainReader(stage.value), limits: mergeLimits(board.value.limits) },
  };
}
