import type { Part, RatingLimits } from '@curvewright/board';
import { fitQuestions } from '../fit/fit-rows.ts';
import type { FitName, FitRow } from '../fit/fit-row.ts';
import type { Level } from '../judge.ts';
import type { SettleAnswer } from '../settle.ts';
import { solveStage, type Stage } from '../stage.ts';
import { withChoices, type ChoicePlace } from './choice-place.ts';

/** Something that speaks against a part, whatever the stage does with it. */
export interface Objection {
  readonly level: Level;
  /** The question of fit; `quantity` and `type` of the drawer. */
  readonly what: FitName | 'quantity' | 'type';
  readonly reason: string;
}

/** Whether parts sit well where they would be put: ratings, polarity, leads, room; empty where nothing speaks against them. */
export type FitRule = (parts: readonly Part[]) => readonly Objection[];

export interface FitSurroundings {
  /** The rework. */
  readonly base: Stage;
  readonly drawn: Stage;
  readonly ratings: RatingLimits;
  /** Of the rework. */
  readonly settle: SettleAnswer | null;
}

/** The rule for one place. What a part of a value, resistor or capacitor, has to bear follows from the rework; a semiconductor sets it itself. */
export function fitRule(place: ChoicePlace, around: FitSurroundings): FitRule {
  const [drawn] = place.drawn;
  return drawn?.kind === 'typed' ? ruleByStage(place, around) : ruleByMake(place, around);
}

function ruleByStage(place: ChoicePlace, { base, drawn, ratings, settle }: FitSurroundings): FitRule {
  return (parts) => {
    const stage = solveStage(withChoices(base.circuit, [{ place, parts }]), base.source, base);
    if (!stage.ok) return [];
    const ask = fitQuestions({ stage: stage.value, drawn, ratings, settle });
    return objectionsOf(parts, ask);
  };
}

/** Parts of one make, rating and size are asked once, whatever their value. */
function ruleByMake(place: ChoicePlace, { base, drawn, ratings, settle }: FitSurroundings): FitRule {
  const isSingle = place.drawn.every(({ ref }) => base.circuit.parts.some((part) => part.ref === ref));
  const refilled = solveStage(withChoices(base.circuit, [{ place, parts: place.drawn }]), base.source, base);
  const stage = isSingle ? base : refilled.ok ? refilled.value : null;
  if (stage === null) return () => [];
  const ask = fitQuestions({ stage, drawn, ratings, settle });
  const known = new Map<string, readonly Objection[]>();
  return (parts) => {
    const [part] = parts;
    const build = part?.kind === 'capacitor' || part?.kind === 'resistor' ? part.build : undefined;
    // What a resistor or trimmer burns depends on its value.
    const watts = part?.kind === 'capacitor' ? 0 : part !== undefined && 'ohms' in part ? part.ohms : 0;
    const { pitch, height, diameter } = part?.body ?? {};
    const key = [build, part?.rated, watts, pitch, height, diameter].join(' ');
    const before = known.get(key);
    if (before !== undefined) return before;
    const objections = objectionsOf(parts, ask);
    known.set(key, objections);
    return objections;
  };
}

/** Those of the first designator that has any: its twins' read alike. */
function objectionsOf(parts: readonly Part[], ask: (part: Part) => readonly FitRow[]): readonly Objection[] {
  for (const part of parts) {
    const open = ask(part).filter(({ level }) => level !== 'good');
    if (open.length > 0) return open.map(({ level, what, cause }) => ({ level, what, reason: cause }));
  }
  return [];
}
