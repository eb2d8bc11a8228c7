import { mergeLimits, readBoard, type Diagnostic } from '@curvewright/board';
import { cardPage, lessonPage } from '@curvewright/report';
import { gainReader, lessonCard, offeredLessons, solveStage, type LessonBench } from '@curvewright/verify';
import type { TeachAnswers, TeachKind, Teaching, TeachOutcome, TeachRequest } from '../contract/teach.ts';
import { heard } from './hear.ts';

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

/** Gives lessons and what there is to hear; the last board stays solved. */
export function createTeaching(): Teaching {
  let last: { readonly text: string; readonly laid: Laid } | null = null;

  return {
    teach<K extends TeachKind>(request: TeachRequest<K>): Promise<TeachOutcome<K>> {
      const { text } = request.board;
      if (last?.text !== text) last = { text, laid: layOut(request) };
      const { laid } = last;
      return Promise.resolve(
        laid.ok
          ? { ok: true, answer: kinds[request.kind](laid.bench, request) }
          : { ok: false, diagnostics: laid.diagnostics },
      );
    },
    hear: (request) => Promise.resolve(heard(request)),
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
