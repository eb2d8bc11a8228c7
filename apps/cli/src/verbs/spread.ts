import { mergeLimits, type Outcome } from '@curvewright/board';
import { spreadAnswer, spreadPlan, spreadRunner, type SpreadRunner } from '@curvewright/verify';
import { spreadPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { untilInterrupted } from '../interrupt.ts';
import { endBoardThreads, runBoards, startBoardThreads, usualWorkers } from '../spread-workers.ts';
import { stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface SpreadOptions extends StageRequest {
  readonly json?: boolean;
  readonly boards: number;
  readonly seed: number;
  readonly workers?: number;
}

/** How far healthy boards lie apart, and how many keep the limits; Ctrl-C gives what is done so far. */
export async function spread(file: string, options: SpreadOptions, desk: Desk): Promise<Status> {
  const json = options.json ?? false;
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const prepared = prepare(file, options, solved.value);
  if (!prepared.ok) return refuse(desk, prepared.diagnostics, json);
  const { title, state } = solved.value;
  const { boards, workers = usualWorkers(boards) } = options;
  const threads = startBoardThreads(prepared.value.plan, workers - 1);
  const tallies = await untilInterrupted((signal) =>
    runBoards(prepared.value, {
      boards,
      threads,
      signal,
      progress: (done) => {
        desk.progress(`${done} of ${boards} boards`);
      },
    }),
  );
  await endBoardThreads(threads);
  desk.progress('');
  const answer = { asked: boards, ...spreadAnswer(prepared.value, tallies) };
  if (json) printJson(desk, { title, state, ...answer });
  else desk.out(spreadPage(answer, { title, state, ...desk }));
  return 0;
}

/** The boards' limits and matched parts, held against the drawn state. */
function prepare(file: string, options: SpreadOptions, { subject, state, stage }: SubjectStage): Outcome<SpreadRunner> {
  const drawn =
    state === 'drawn' ? { ok: true as const, value: { stage } } : stageOf(file, { ...options, state: 'drawn' });
  if (!drawn.ok) return drawn;
  const { limits, matched } =
    subject.kind === 'job'
      ? { limits: subject.job.limits, matched: subject.job.board.matched }
      : { limits: mergeLimits(subject.board.limits), matched: subject.board.matched };
  const runner = spreadRunner(spreadPlan(stage, drawn.value.stage, { limits, matched, seed: options.seed }));
  if (runner !== null) return { ok: true, value: runner };
  const message = 'the board cannot be solved at every frequency; curve and poles tell where it stands';
  return { ok: false, diagnostics: [{ code: 'no-bias', place: { file, line: 1, column: 1 }, message }] };
}
