import { leadLetter, type Circuit, type Part, type TypedPart } from '@curvewright/board';
import { leadFit, type LeadFit } from '../fit/lead-fit.ts';
import { movesOf, type Moves } from '../position-effects.ts';
import { otherwise, taught, taughtParts, type LessonBench } from './lesson-bench.ts';

/** A transistor whose replacement has its leads the other way round. */
export interface LeadsLesson {
  readonly ref: string;
  /** The lead that each hole takes, left to right, the printed flat towards the reader. */
  readonly holes: string;
  /** The replacement's leads from the front, and how it goes in. */
  readonly front: string;
  readonly fit: LeadFit;
  /** What the board does with it as the print shows; null where it then finds no bias. */
  readonly wrong: (Moves & { readonly inHoles: string }) | null;
}

const kinds: ReadonlySet<string> = new Set(['npn', 'pnp', 'jfet-n', 'jfet-p']);

/** On the transistor that, put in the wrong way round, moves the voltages most; null where the board has none in holes of its own. */
export function leadsLesson(bench: LessonBench): LeadsLesson | null {
  const lessons = taughtParts(bench).flatMap((part) =>
    part.kind === 'typed' && kinds.has(part.type.kind) ? (lessonOn(bench, part) ?? []) : [],
  );
  const moved = ({ wrong }: LeadsLesson): number => (wrong === null ? 0 : Math.abs(wrong.nodeMv));
  return lessons.toSorted((a, b) => moved(b) - moved(a))[0] ?? null;
}

function lessonOn(bench: LessonBench, part: TypedPart): LeadsLesson | null {
  const holes = holesOf(part);
  if (holes === null) return null;
  const front = [...holes].reverse().join('');
  const wrong = otherwise(bench, withLeadsIn(bench.stage.circuit, part, holes, front));
  return {
    ...{ ref: part.ref, holes, front, fit: leadFit(holes, front) },
    wrong: wrong === null ? null : { ...movesOf(wrong, bench, taught), inHoles: front },
  };
}

function holesOf({ seat, type }: TypedPart): string | null {
  return seat?.holes ?? type.caseLeads?.order ?? null;
}

/** Hole n is for lead n of `holes` and takes lead n of `taken`. */
export function withLeadsIn(circuit: Circuit, part: TypedPart, holes: string, taken: string): Circuit {
  const nodeFor = new Map(Object.entries(part.leads).map(([lead, node]) => [leadLetter(lead), node]));
  const leads = Object.keys(part.leads).map((lead): [string, string] => [
    lead,
    nodeFor.get(holes.charAt(taken.indexOf(leadLetter(lead)))) ?? '',
  ]);
  const turned: Part = { ...part, leads: Object.fromEntries(leads) };
  return { ...circuit, parts: circuit.parts.map((each) => (each.ref === part.ref ? turned : each)) };
}
