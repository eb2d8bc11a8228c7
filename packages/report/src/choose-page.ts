import type { CandidateAnswer, Level, PlaceAnswer, PlanAnswer } from '@curvewright/verify';
import { hanging, oneLine, wrap } from './cells.ts';
import { inkOf, markOf } from './ink.ts';
import { change, db, decimals, none } from './numbers.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { planLines } from './plan-lines.ts';
import { tableLines, type Cell, type Column } from './table.ts';

/** What lies in the drawer for each position, and the plan where it was asked for. */
export interface ChoosePageAnswer {
  readonly drawer: { readonly file: string; readonly rows: number; readonly leftOut: number };
  readonly positions: readonly PlaceAnswer[];
  readonly plan: PlanAnswer | null;
  /** Whether somebody stopped it before it was done. */
  readonly stopped: boolean;
  /** Whether one position was asked for. */
  readonly isOne: boolean;
}

/** Candidates that are listed of one position, and of each of many; all of them stand in the JSON object. */
const listed = { one: 40, many: 5 } as const;

export function choosePage(answer: ChoosePageAnswer, { title, ...options }: PageOptions & { title: string }): string {
  const page = { ...options, width: pageWidth(options) };
  const { file, rows, leftOut } = answer.drawer;
  const out = leftOut === 0 ? '' : `, ${leftOut} ${leftOut === 1 ? 'fault' : 'faults'} left out`;
  const heading = wrap(`${oneLine(title)}: what serves, from ${oneLine(file)} with ${rows} rows${out}`, page.width);
  const sections = [
    heading,
    ...answer.positions.map((place) => placeLines(place, answer.isOne, page)),
    ...(answer.plan === null ? [] : [planLines(answer.plan, page)]),
    notes(answer, page),
  ];
  return sections.map((lines) => lines.join('\n')).join(`\n${'─'.repeat(page.width)}\n`);
}

function placeLines(place: PlaceAnswer, isOne: boolean, page: PageOptions): readonly string[] {
  const { refs, planned, candidates, order } = place;
  const shown = candidates.slice(0, isOne ? listed.one : listed.many);
  const name = refs.join('/');
  const rest = candidates.length - shown.length;
  return [
    ...wrap(`${name}, ${planned} in the job: ${summary(candidates)}`, page.width),
    ...(shown.length === 0 ? [] : candidateLines(shown, page)),
    ...(rest === 0
      ? []
      : wrap(isOne ? `… and ${rest} more: --json` : `… and ${rest} more: choose ${refs[0]}`, page.width)),
    ...(order === null ? [] : hanging('To order: ', order.words, page.width)),
  ];
}

/** A line each, and under it what speaks against it. */
function candidateLines(shown: readonly CandidateAnswer[], page: PageOptions): readonly string[] {
  const [head = '', ...lines] = tableLines(columns, [heads, ...shown.map(row)], page);
  const reasons = shown.map((each) => each.reasons.flatMap((reason) => hanging('    ', reason, page.width)));
  return [head, ...lines.flatMap((line, n) => [line, ...(reasons[n] ?? [])])];
}

/** `2 good, 3 look, 21 fail of 26`. */
function summary(candidates: readonly CandidateAnswer[]): string {
  if (candidates.length === 0) return 'nothing of its kind in the drawer';
  const levels: readonly Level[] = ['good', 'look', 'not measured', 'fail'];
  const counts = levels.flatMap((level) => {
    const count = candidates.filter(({ verdict }) => verdict === level).length;
    return count === 0 ? [] : [`${count} ${level}`];
  });
  return `${counts.join(', ')} of ${candidates.length}`;
}

const heads = ['', 'stock', 'part', 'has', 'takes', 'price', 'curve dB', 'bias'];
const columns: readonly Column[] = [
  { align: 'left' },
  { align: 'left', gap: 1 },
  { align: 'left' },
  { align: 'right' },
  { align: 'right' },
  { align: 'point' },
  { align: 'right' },
  { align: 'left' },
];

function row(each: CandidateAnswer): readonly Cell[] {
  const { changes } = each;
  return [
    { text: markOf[each.verdict], ink: inkOf[each.verdict] },
    each.stock,
    each.description.replace(/, leakage [^,]*/g, ''),
    each.quantity === null ? none : String(each.quantity),
    String(each.takes),
    each.price === null ? none : decimals(each.price, 2),
    changes === null ? none : db(changes.curveDb),
    changes === null ? none : `${changes.node} ${change(changes.nodeMv / 1000, 'V')}`,
  ];
}

function notes({ stopped, isOne, positions }: ChoosePageAnswer, { width }: PageOptions): readonly string[] {
  const by = isOne
    ? `The first ${positions[0]?.candidates.filter(({ judgedBy }) => judgedBy === 'every limit').length ?? 0} are judged by every limit, the others by bias, curve, hum, crosstalk and input resistance`
    : 'Judged by bias, curve, hum, crosstalk and input resistance (ask for one position, and the first are judged by every limit)';
  return [
    ...(stopped ? wrap('Stopped before all was looked at.', width) : []),
    ...wrap(
      `Each part stands in its place and its twin's with the rest of the rework, and is ranked by verdict, change from drawn, margin, price. ${by}, and by how it fits. Curve and bias: the most that moves from drawn.`,
      width,
    ),
    ...wrap('Computed from the files; nothing was measured.', width),
  ];
}
