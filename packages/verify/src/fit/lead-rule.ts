import type { CaseLeads, TypedPart } from '@curvewright/board';
import type { Level } from '../judge.ts';
import { ofPart, type FitRow } from './fit-row.ts';
import { frontOrder, leadFit, leadSentence, type LeadFit } from './lead-fit.ts';

/** How each case that a part may have goes into its holes. */
export interface LeadAnswer {
  readonly ref: string;
  readonly typeName: string;
  /** The board's own lead order, left to right. */
  readonly holes: string;
  /** The lead that the job puts in each hole; as `holes` where it says nothing. */
  readonly inHoles: string;
  /** None where the file gives the case no order, several where one type has several cases. */
  readonly cases: readonly { readonly front: string; readonly fit: LeadFit }[];
  readonly row: FitRow;
}

const metalNote: Readonly<Record<'metal_can' | 'power', string>> = {
  metal_can: 'a metal can has its leads in a circle and no order from the left; the can may be the collector',
  power: 'the metal of a power case may be the collector: insulate it from whatever it touches',
};

/** For a part with three leads that a job fits or inserts where the board states the order of the holes; null for any other. */
export function leadAnswer(part: TypedPart): LeadAnswer | null {
  const { seat, type, typeName, inserted } = part;
  const holes = seat?.holes;
  if (holes?.length !== 3 || type.kind === 'opamp' || (part.fitted !== true && inserted === undefined)) return null;
  const inHoles = inserted ?? holes;
  const known = [type.caseLeads, ...(type.otherCases ?? [])].filter((each): each is CaseLeads => each !== undefined);
  const cases = known.map((each) => {
    const front = frontOrder(each);
    return { front, fit: leadFit(inHoles, front) };
  });
  return { ref: part.ref, typeName, holes, inHoles, cases, row: rowOf(part, holes, inHoles, cases) };
}

function rowOf(part: TypedPart, holes: string, inHoles: string, cases: LeadAnswer['cases']): FitRow {
  const { ref, type, typeName } = part;
  const row = (level: Level, crossed: number, where: string, cause: string, next: string): FitRow => ({
    ...{ what: 'leads', ...ofPart(part), level, where, value: crossed, margin: -crossed, unit: 'leads' },
    ...{ bound: 'no crossed lead', cause, next },
  });
  const misplaced = [...inHoles].filter((lead, n) => lead !== holes.charAt(n));
  if (misplaced.length > 0) {
    const isTurnedChannel = type.kind.startsWith('jfet') && !misplaced.includes('G');
    const cause = `${ref}: ${spaced(inHoles)} stand in the holes of ${spaced(holes)}`;
    return isTurnedChannel
      ? row('look', misplaced.length, 'wrong holes', `${cause}; drain and source change places`, `see ${ref}`)
      : row(
          'fail',
          misplaced.length,
          'wrong holes',
          cause,
          `put ${spaced(holes)} of ${ref} into the holes from the left`,
        );
  }
  if (type.caseForm === 'metal_can' || type.caseForm === 'power') {
    const cause = `${typeName} at ${ref}: ${metalNote[type.caseForm]}`;
    return row('look', 0, 'case', cause, `find each lead of ${ref} by its data sheet and keep the case clear`);
  }
  const [first, ...others] = cases;
  if (first === undefined) {
    const cause = `the file does not say in which order ${typeName} at ${ref} has its leads`;
    return row('look', 0, 'order not known', cause, `look it up and write case_leads at ${part.position}`);
  }
  if (others.length > 0) {
    const ways = cases.map(({ front, fit }) => leadSentence(`the case with ${spaced(front)}`, fit));
    const cause = `${typeName} at ${ref} comes in ${cases.length} cases: ${ways.join('; ')}`;
    return row(
      'look',
      0,
      'case not known',
      cause,
      `see which case is in hand and write case_leads at ${part.position}`,
    );
  }
  const { fit } = first;
  const cause = `${ref}: ${leadSentence(typeName, fit)}`;
  switch (fit.how) {
    case 'as is':
      return row('good', 0, 'as the print shows', cause, 'nothing');
    case 'turned':
      return row('good', 0, 'turned by 180°, flat to the back', cause, `turn ${ref} by 180°`);
    case 'crossed':
      return row('look', fit.crossed.length, 'crossed', cause, `sleeve ${fit.crossed.join(' and ')} of ${ref}`);
  }
}

function spaced(order: string): string {
  return [...order].join(' ');
}
