import type { Target } from '@curvewright/curves';
import { logFrequencies } from '@curvewright/curves';
import { curveAnswer, deviationCurves, gainReader, sheetFrequencies } from '@curvewright/verify';
import { curveCsv, curvePage, type ChartedCurve } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { reasonOf, writeWhole } from '../files.ts';
import { stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface CurveOptions extends StageRequest {
  readonly json?: boolean;
  readonly at?: readonly number[];
  readonly target: Target;
  readonly csv?: string;
}

/** Points per decade of a table written to a file. */
const csvDensity = 24;

/** Gain, phase and deviation at chosen frequencies; `csv` writes a fine table beside. */
export function curve(file: string, options: CurveOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { title, state, stage } = solved.value;
  if (options.csv !== undefined) {
    const frequencies = options.at ?? [...logFrequencies(2, 100_000, csvDensity)];
    const table = { title, state, ...curveAnswer(stage, options.target, frequencies) };
    try {
      writeWhole(options.csv, curveCsv(table));
    } catch (trouble) {
      const place = { file: options.csv, line: 1, column: 1 };
      return refuse(desk, [{ code: 'unreadable-file', place, message: `the file ${reasonOf(trouble)}` }], json);
    }
  }
  const answer = { title, state, ...curveAnswer(stage, options.target, options.at ?? sheetFrequencies) };
  if (json) printJson(desk, answer);
  else desk.out(curvePage({ ...answer, states: chartedStates(file, options, solved.value) }, desk));
  return 0;
}

/** Points per decade of the chart. */
const chartDensity = 20;

/** Before and after: every state of a job that can be solved, the one state of a board. */
function chartedStates(file: string, options: CurveOptions, asked: SubjectStage): ChartedCurve['states'] {
  const states = asked.subject.kind === 'job' ? (['drawn', 'found', 'rebuilt'] as const) : [asked.state];
  return states.flatMap((state) => {
    const solved = state === asked.state ? { ok: true as const, value: asked } : stageOf(file, { ...options, state });
    if (!solved.ok) return [];
    const { stage } = solved.value;
    return [{ state, ...deviationCurves(stage, gainReader(stage, options.target), chartDensity) }];
  });
}
