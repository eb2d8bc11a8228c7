import { leadDrawing, stringDrawing } from '@curvewright/report';
import { fitSteps, type FitAnswer, type FitName, type LeadAnswer, type Stage, type Steps } from '@curvewright/verify';
import type { Fitted } from '../contract/views.ts';
import type { Bench } from './bench.ts';
import { lastOf } from './drawn.ts';

/** What the state on which the verdict rests fits; the same stage is asked once. */
export function* fitOfStage({ staged }: Bench, known: WeakMap<Stage, FitAnswer>): Steps<FitAnswer> {
  const { stage } = lastOf(staged.states).probe;
  const before = known.get(stage);
  if (before !== undefined) return before;
  const drawn = staged.states.length > 1 ? (staged.states[0]?.probe.stage ?? null) : null;
  const answer = yield* fitSteps(stage, drawn, staged.limits, null);
  known.set(stage, answer);
  return answer;
}

/** What is told of a row beside its drawings; ratings stand among the findings. */
const told: readonly FitName[] = ['leads', 'polarity', 'seat'];

export function fittedPlace({ rows, leads, fitted }: FitAnswer, revision: number, refs: readonly string[]): Fitted {
  const isHere = ({ ref }: { readonly ref: string }): boolean => refs.includes(ref.split('.')[0] ?? ref);
  const alike = new Map<string, LeadAnswer[]>();
  for (const each of leads.filter(isHere)) {
    const key = JSON.stringify([each.typeName, each.holes, each.inHoles, each.cases]);
    alike.set(key, [...(alike.get(key) ?? []), each]);
  }
  const cases = [...alike.values()].flatMap((same) =>
    same.slice(0, 1).map((first) => ({ refs: same.map(({ ref }) => ref), svg: leadDrawing(first, { ink: 'page' }) })),
  );
  const strings = fitted
    .filter(isHere)
    .map((string) => ({ refs: [string.ref], svg: stringDrawing(string, { ink: 'page' }) }));
  return {
    ...{ revision, ok: true, drawings: [...cases, ...strings] },
    lines: rows
      .filter((row) => isHere(row) && told.includes(row.what))
      // Which way round is worth saying always, all else only where it asks for something.
      .filter(
        ({ what, where, level }) => level !== 'good' || what === 'leads' || where === 'steady' || where === 'band',
      )
      .map(({ level, cause, next }) => ({ level, cause, next: next === 'nothing' ? null : next })),
  };
}
