import type { PlanAnswer } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { decimals, none } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { tableLines, type Column } from './table.ts';

/** The smallest set of changes with which a job passes, and how sure that is. */
export function planLines(answer: PlanAnswer, page: PageOptions): readonly string[] {
  const { plan, reasons } = answer;
  return [
    ...wrap(verdictWords(answer), page.width),
    ...(plan.length === 0 ? [] : steps(answer, page)),
    ...reasons.flatMap((reason) => hanging('Still: ', reason, page.width)),
    ...wrap(searchWords(answer), page.width),
  ];
}

function verdictWords({ before, verdict, plan }: PlanAnswer): string {
  if (verdict === null)
    return `The rework as the job has it is ${before}, and no set of changes from this drawer was found that passes.`;
  if (plan.length === 0) return `The rework as the job has it is ${verdict}: nothing has to be changed.`;
  const count = plan.length === 1 ? 'one change' : `${plan.length} changes`;
  return `The rework as the job has it is ${before}; with ${count} it is ${verdict}:`;
}

function steps({ plan, price }: PlanAnswer, page: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left' },
    { align: 'right' },
    { align: 'left', wraps: true },
    { align: 'left' },
    { align: 'point' },
  ];
  const rows = plan.map((step) => [
    step.refs.join('/'),
    step.stock,
    `${step.takes} ×`,
    step.description,
    `for ${step.planned}`,
    step.price === null ? none : decimals(step.price, 2),
  ]);
  const total = price === null || plan.length < 2 ? [] : [['', '', '', 'together', '', decimals(price, 2)]];
  return tableLines(columns, [...rows, ...total], page);
}

function searchWords({ plan, verdict, search }: PlanAnswer): string {
  const { places, options, judged, shownBelow, exact, reserve } = search;
  const looked = `${options} parts for ${places} positions, ${judged} sets put in and judged`;
  const bound = `sets whose changes, added up with ${100 * reserve} % of their sizes to spare, cannot reach the limits were passed over`;
  return `${looked}; ${bound}. ${sureness()}`;

  function sureness(): string {
    if (exact)
      return verdict === null
        ? 'No other set was left out.'
        : 'No smaller set passes, and of those as small this is the best.';
    if (verdict === null)
      return `Given up: no set of fewer than ${shownBelow} changes passes; larger ones were not all looked at.`;
    if (plan.length === shownBelow)
      return 'Given up before all sets as small were looked at: none is smaller, another may be better.';
    return `Given up: no set of fewer than ${shownBelow} changes passes; this one has ${plan.length}, found step by step, and one between may do.`;
  }
}
