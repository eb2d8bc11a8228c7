import type { Job, Limits, TypedPart } from '@curvewright/board';
import { worstLevel, type Level } from '../judge.ts';
import { settleAnswer } from '../settle.ts';
import type { Stage } from '../stage.ts';
import { within, type Steps } from '../steps.ts';
import { stringSteps, type StringsAnswer } from './diode-strings.ts';
import { fitRows } from './fit-rows.ts';
import type { FitRow } from './fit-row.ts';
import { leadAnswer, type LeadAnswer } from './lead-rule.ts';

/** Whether every part of a stage survives, stands the right way round and goes in, part by part. */
export interface FitAnswer {
  readonly verdict: Level;
  readonly rows: readonly FitRow[];
  /** How the fitted transistors go into their holes. */
  readonly leads: readonly LeadAnswer[];
  /** For drawn diodes that the job replaces: what a string of others does there. */
  readonly strings: readonly StringsAnswer[];
  /** The strings that are fitted, first at the anode: the designators of their members and the nodes at both ends. */
  readonly fitted: readonly FittedString[];
}

export interface FittedString {
  readonly ref: string;
  readonly members: readonly { readonly ref: string; readonly type: string }[];
  readonly anode: string;
  readonly cathode: string;
}

/** `drawn` is null where the stage is the drawn one; then no string is asked for. */
export function* fitSteps(stage: Stage, drawn: Stage | null, limits: Limits, job: Job | null): Steps<FitAnswer> {
  const settled = settleAnswer(stage, { within: limits.settle.within });
  yield 0.3;
  const settle = settled.ok ? settled.value : null;
  const rows = fitRows({ stage, drawn, ratings: limits.ratings, settle });
  yield 0.4;
  const types = stage.circuit.parts.filter((part): part is TypedPart => part.kind === 'typed');
  const replaced = new Set(types.filter(({ fitted }) => fitted === true).map(({ position }) => position));
  const strings = drawn === null || job === null ? [] : yield* within(0.4, 1, stringSteps(drawn, job.types, replaced));
  return {
    verdict: worstLevel(rows.map(({ level }) => level)),
    rows,
    leads: types.flatMap((part) => leadAnswer(part) ?? []),
    strings,
    fitted: fittedStrings(types),
  };
}

function fittedStrings(parts: readonly TypedPart[]): readonly FittedString[] {
  const diodes = parts.filter(({ type, ref, position }) => type.kind === 'diode' && ref !== position);
  return [...new Set(diodes.map(({ position }) => position))].map((ref) => {
    const members = diodes.filter(({ position }) => position === ref);
    return {
      ref,
      members: members.map((each) => ({ ref: each.ref, type: each.typeName })),
      anode: members[0]?.leads.anode ?? '',
      cathode: members.at(-1)?.leads.cathode ?? '',
    };
  });
}
