import { describePart, type Job, type JobPosition, type StockPart } from '@curvewright/board';
import type { FitAnswer } from '../fit/fit-answer.ts';
import type { Stage } from '../stage.ts';
import { voltageChart } from '../voltage-chart.ts';
import { cautions } from './cautions.ts';
import { pulledWords } from './pulled-words.ts';
import { purchaseList, type PurchaseLine } from './purchase.ts';
import { addedRow, positionRow, type SheetRow } from './sheet-row.ts';

/** What lies beside the iron: a job's work in bench order, with what to mind and what to buy. */
export interface ReworkSheet {
  readonly title: string;
  readonly board: string;
  readonly unit: NonNullable<Job['entry']['unit']>;
  readonly date: string | null;
  readonly technician: string | null;
  readonly complaint: string | null;
  readonly cautions: readonly string[];
  /** In the board's order, twins next to one another; new parts last. */
  readonly rows: readonly SheetRow[];
  /** What was looked at and stays, and why. */
  readonly left: readonly LeftIn[];
  /** Positions that the job does not speak of. */
  readonly untouched: number;
  readonly reminders: readonly string[];
  /** Of the job as a whole; those of a position stand in its row. */
  readonly photos: readonly string[];
  /** Ω of the meter that the checks are told for. */
  readonly meterOhms: number;
  readonly purchase: readonly PurchaseLine[];
  /** Of all lines whose price is known. */
  readonly purchaseTotal: number;
}

export interface LeftIn {
  readonly ref: string;
  readonly what: string;
  /** What it read when it was pulled; null where the job does not say. */
  readonly pulled: string | null;
  /** Null where the job gives no reason. */
  readonly why: string | null;
  readonly photos: readonly string[];
}

export interface SheetContext {
  /** The rebuilt state, and whether its parts fit. */
  readonly stage: Stage;
  readonly fit: FitAnswer;
  readonly meterOhms: number;
  /** What the drawer holds; empty where there is none. */
  readonly stock: readonly StockPart[];
}

export function reworkSheet(job: Job, { stage, fit, meterOhms, stock }: SheetContext): ReworkSheet {
  const { entry, board } = job;
  const chart = voltageChart(stage, meterOhms);
  const groups = board.positions.map((refs) => ({
    refs,
    positions: refs.flatMap((ref) => job.positions.filter(({ drawn }) => drawn.ref === ref)),
  }));
  const ordered = groups.flatMap(({ positions }) => positions);
  const { added } = job;
  const fitted = ordered
    .filter(({ entry: said }) => said?.fit !== undefined)
    .flatMap(({ fitted: fresh }) => fresh?.parts ?? []);
  const purchase = purchaseList([...fitted, ...added], stock);
  return {
    title: entry.title,
    board: board.title,
    unit: entry.unit ?? {},
    date: entry.date ?? null,
    technician: entry.technician ?? null,
    complaint: entry.complaint ?? null,
    cautions: cautions(stage),
    rows: [
      ...groups.flatMap(({ refs, positions }) =>
        positions.filter(isWork).map((position) => positionRow(position, refs, { fit, chart })),
      ),
      ...added.map((part) => addedRow(part, { fit, chart })),
    ],
    left: ordered.filter((position) => position.entry !== undefined && !isWork(position)).map(leftIn),
    untouched: ordered.filter((position) => position.entry === undefined).length,
    reminders: entry.reminders ?? [],
    photos: entry.photos ?? [],
    meterOhms,
    purchase,
    purchaseTotal: purchase.reduce((sum, { total }) => sum + (total ?? 0), 0),
  };
}

/** Whether something is done there with the iron. */
function isWork({ fitted }: JobPosition): boolean {
  return fitted !== undefined;
}

function leftIn({ drawn, entry }: JobPosition): LeftIn {
  return {
    ref: drawn.ref,
    what: describePart(drawn),
    pulled: entry?.pulled === undefined ? null : pulledWords(entry.pulled),
    why: entry?.why ?? null,
    photos: entry?.photos ?? [],
  };
}
