import { circuitOf, type Diagnostic, type StockPart } from '@curvewright/board';
import { atOnce, fitSteps, reworkSheet, solveStage } from '@curvewright/verify';
import { diagnosticLines, purchaseCsv, sheetCsv, sheetPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Conditions } from '../conditions.ts';
import type { Desk } from '../desk.ts';
import { openDrawer } from '../drawer.ts';
import { reasonOf, writeWhole } from '../files.ts';
import { meterOf, usualMeter } from '../meter.ts';
import { stageOf } from '../stage-of.ts';

export interface SheetOptions extends Conditions {
  readonly json?: boolean;
  /** Files that take the sheet and the purchase list as tables. */
  readonly csv?: string;
  readonly purchase?: string;
  readonly drawer?: string;
}

/** The work of a job in bench order, to lie beside the iron. */
export function sheet(file: string, options: SheetOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const solved = stageOf(file, { ...options, state: undefined });
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { subject, stage } = solved.value;
  if (subject.kind === 'board') {
    const message = 'a board file alone has no work on it; name a job file';
    return refuse(desk, [{ code: 'wrong-form', place: { file, line: 1, column: 1 }, message }], json);
  }
  const { job } = subject;
  const stock = stockFor(file, options, desk);
  if ('diagnostics' in stock) return refuse(desk, stock.diagnostics, json);
  const drawn = circuitOf(job, 'drawn');
  const before = drawn === null ? null : solveStage(drawn.circuit, stage.source);
  const fit = atOnce(fitSteps(stage, before?.ok === true ? before.value : null, job.limits, job));
  const meterOhms = meterOf(job, 'rebuilt') ?? meterOf(job, 'found') ?? usualMeter;
  const answer = reworkSheet(job, { stage, fit, meterOhms, stock: stock.stock });
  const trouble = [
    written(options.csv, () => sheetCsv(answer)),
    written(options.purchase, () => purchaseCsv(answer)),
  ].flatMap((each) => each ?? []);
  if (trouble.length > 0) return refuse(desk, trouble, json);
  if (json) printJson(desk, answer);
  else desk.out(sheetPage(answer, desk));
  return 0;
}

/** Nothing where no drawer lies beside the job; one that is named has to be there. */
function stockFor(
  file: string,
  { drawer: named }: SheetOptions,
  desk: Desk,
): { readonly stock: readonly StockPart[] } | { readonly diagnostics: readonly Diagnostic[] } {
  const drawer = openDrawer(named, file);
  if (drawer.ok) {
    if (drawer.value.leftOut.length > 0) desk.complain(diagnosticLines(drawer.value.leftOut));
    return { stock: drawer.value.stock };
  }
  if (named !== undefined) return { diagnostics: drawer.diagnostics };
  const own = drawer.diagnostics.filter(({ place }) => place.file !== file);
  if (own.length > 0) desk.complain(diagnosticLines(own));
  return { stock: [] };
}

function written(file: string | undefined, text: () => string): Diagnostic | null {
  if (file === undefined) return null;
  try {
    writeWhole(file, text());
    return null;
  } catch (trouble) {
    const place = { file, line: 1, column: 1 };
    return { code: 'unreadable-file', place, message: `the file ${reasonOf(trouble)}` };
  }
}
