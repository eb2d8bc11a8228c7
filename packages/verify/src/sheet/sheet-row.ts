import { describePart, leadsOf, type JobPosition, type Part } from '@curvewright/board';
import { bareName } from '../node-volts.ts';
import type { VoltageChart } from '../voltage-chart.ts';
import type { FitAnswer } from '../fit/fit-answer.ts';
import { pulledWords } from './pulled-words.ts';
import { allSoldWords } from './sold-words.ts';

/** One designator on the bench. */
export interface SheetRow {
  readonly ref: string;
  /** Designators of its place in all channels, itself among them. */
  readonly twins: readonly string[];
  readonly action: 'fit' | 'leave empty' | 'put back' | 'mend' | 'add';
  readonly drawn: string | null;
  /** What was pulled, as it was read; null where the job does not say. */
  readonly pulled: string | null;
  readonly fitted: string;
  readonly why: string | null;
  /** Polarity, and how the part is turned. */
  readonly marks: readonly string[];
  /** What does not fit as it should, and what to do. */
  readonly mind: readonly string[];
  /** What the meter will show there with the power on. */
  readonly checks: readonly SheetCheck[];
  readonly photos: readonly string[];
}

export interface SheetCheck {
  /** `Q101.collector`. */
  readonly at: string;
  /** Full name of the node. */
  readonly node: string;
  /** V; null where the bias cannot be found with the meter on it. */
  readonly volts: number | null;
}

export interface RowContext {
  readonly fit: FitAnswer;
  readonly chart: VoltageChart;
}

/** The row of a position that the job works on. */
export function positionRow(position: JobPosition, twins: readonly string[], context: RowContext): SheetRow {
  const { drawn, pulled, fitted, entry } = position;
  const parts = fitted?.parts ?? pulled?.parts ?? [drawn];
  return {
    ref: drawn.ref,
    twins,
    action: actionOf(position),
    drawn: describePart(drawn),
    pulled: entry?.pulled === undefined ? null : pulledWords(entry.pulled),
    fitted: allSoldWords(parts),
    why: entry?.why ?? null,
    marks: marksOf(drawn, parts, context),
    mind: mindOf(drawn.ref, context),
    checks: checksOf(drawn, context),
    photos: entry?.photos ?? [],
  };
}

/** The row of a new part. */
export function addedRow(part: Part, context: RowContext): SheetRow {
  return {
    ...{ ref: part.ref, twins: [part.ref], action: 'add', drawn: null, pulled: null },
    ...{ fitted: allSoldWords([part]), why: null, marks: marksOf(part, [part], context) },
    ...{ mind: mindOf(part.position, context), checks: checksOf(part, context), photos: [] },
  };
}

function actionOf({ entry }: JobPosition): SheetRow['action'] {
  if (entry?.fit === 'none') return 'leave empty';
  if (entry?.fit !== undefined) return 'fit';
  return entry?.mended === true ? 'mend' : 'put back';
}

function marksOf(drawn: Part, parts: readonly Part[], context: RowContext): readonly string[] {
  return parts.flatMap((part) => {
    if (part.kind === 'capacitor') return capacitorMark(drawn, part, context);
    if (part.kind !== 'typed') return [];
    const { cathode } = part.leads;
    if (part.type.kind === 'diode' || part.type.kind === 'zener')
      return [`${parts.length > 1 ? `${part.ref}: ` : ''}band to ${nodeWords(cathode ?? '', part)}`];
    return context.fit.rows
      .filter(({ ref, what }) => ref === part.ref && what === 'leads')
      .map(({ cause }) => withoutRef(cause, part.ref));
  });
}

/** The polarity was asked of every capacitor that has one; the others are told where a board's print makes one look for it. */
function capacitorMark(drawn: Part, part: Part, { fit }: RowContext): readonly string[] {
  const row = fit.rows.find(({ ref, what, where }) => ref === part.ref && what === 'polarity' && where === 'steady');
  if (row !== undefined) return [withoutRef(row.cause, part.ref)];
  return drawn.kind === 'capacitor' && drawn.polarised ? ['no polarity: either way round'] : [];
}

function mindOf(position: string, { fit }: RowContext): readonly string[] {
  const isHere = (ref: string): boolean => ref === position || ref.startsWith(`${position}.`);
  return fit.rows
    .filter(({ ref, level }) => level !== 'good' && isHere(ref))
    .map(({ level, cause, next }) => `${level}: ${cause}; ${next}`);
}

/** Every lead that does not stand on gnd. */
function checksOf(drawn: Part, { chart }: RowContext): readonly SheetCheck[] {
  return Object.entries(leadsOf(drawn)).flatMap(([lead, node]) => {
    const [bare, own] = node.split('@');
    const channel = chart.channels.find(({ name }) => own === undefined || name === own);
    const read = channel?.nodes.find((each) => each.node === bare);
    return node === 'gnd' || read === undefined ? [] : [{ at: `${drawn.ref}.${lead}`, node, volts: read.meterVolts }];
  });
}

function nodeWords(node: string, { channel }: Part): string {
  return channel !== null && node.endsWith(`@${channel}`) ? bareName(node) : node;
}

function withoutRef(cause: string, ref: string): string {
  return cause.startsWith(`${ref}: `) ? cause.slice(ref.length + 2) : cause;
}
