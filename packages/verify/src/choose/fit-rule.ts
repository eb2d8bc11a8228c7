import type { Part } from '@curvewright/board';
import { fitQuestions } from '../fit/fit-rows.ts';
import type { FitContext, FitName, FitRow } from '../fit/fit-row.ts';
import { seatRows } from '../fit/seat-rule.ts';
import type { Level } from '../judge.ts';
import { solveStage } from '../stage.ts';
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

/** The rework, with its questions of fit made ready once for all places. */
export interface FitSurroundings extends FitContext {
  readonly ask: (part: Part) => readonly FitRow[];
}

/** The rule for one place. What a part of a value, resistor or capacitor, has to bear follows from the rework; a semiconductor sets it itself. */
export function fitRule(place: ChoicePlace, around: FitSurroundings): FitRule {
  const [drawn] = place.drawn;
  return drawn?.kind === 'typed' ? ruleByStage(place, around) : ruleByMake(place, around);
}

/** Parts of one type and case are asked once. */
function ruleByStage(place: ChoicePlace, around: FitSurroundings): FitRule {
  const { circuit, source } = around.stage;
  return remembered(
    (parts) =>
      parts
        .map((part) => [part.ref, ...(part.kind === 'typed' ? [part.typeName, JSON.stringify(part.type)] : [])])
        .join(' ') + sizesOf(parts[0]),
    (parts) => {
      const solved = solveStage(withChoices(circuit, [{ place, parts }]), source, around.stage);
      return solved.ok ? objectionsOf(parts, fitQuestions({ ...around, stage: solved.value })) : [];
    },
  );
}

/** Parts of one make and rating are asked once, whatever their value, and those of one size. */
function ruleByMake(place: ChoicePlace, around: FitSurroundings): FitRule {
  const { circuit, source } = around.stage;
  const isSingle = place.drawn.every(({ ref }) => circuit.parts.some((part) => part.ref === ref));
  const refilled = isSingle ? null : solveStage(withChoices(circuit, [{ place, parts: place.drawn }]), source);
  if (refilled?.ok === false) return () => [];
  const ask = refilled === null ? around.ask : fitQuestions({ ...around, stage: refilled.value });
  const rated = remembered(
    ([part]) => {
      const build = part?.kind === 'capacitor' || part?.kind === 'resistor' ? part.build : undefined;
      // What a resistor or trimmer burns depends on its value.
      const ohms = part?.kind === 'capacitor' ? 0 : part !== undefined && 'ohms' in part ? part.ohms : 0;
      return [build, part?.rated, ohms].join(' ');
    },
    (parts) =>
      objectionsOf(
        parts.map(({ seat: _, ...part }): Part => part),
        ask,
      ),
  );
  const seated = remembered(
    ([part]) => sizesOf(part),
    (parts) => objectionsOf(parts, seatRows),
  );
  return (parts) => [...rated(parts), ...seated(parts)];
}

function sizesOf(part: Part | undefined): string {
  const { pitch, height, diameter } = part?.body ?? {};
  return [pitch, height, diameter].join(' ');
}

function remembered(keyOf: (parts: readonly Part[]) => string, rule: FitRule): FitRule {
  const known = new Map<string, readonly Objection[]>();
  return (parts) => {
    const key = keyOf(parts);
    const before = known.get(key);
    if (before !== undefined) return before;
    const objections = rule(parts);
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
