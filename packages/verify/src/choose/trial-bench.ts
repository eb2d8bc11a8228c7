import type { Limits, Part } from '@curvewright/board';
import type { Probe } from '../figure.ts';
import { mainValue } from '../part-value.ts';
import type { Stage } from '../stage.ts';
import type { Choice, ChoicePlace } from './choice-place.ts';
import type { Spot } from './spots.ts';
import type { Trial } from './trial.ts';
import { trialBoard, type TrialBoard } from './trial-board.ts';

/** Puts parts into the rework and judges its bias, curve, hum, crosstalk and input resistance with them. */
export interface TrialBench {
  /** Null where the stage then has no bias. */
  try(choices: readonly Choice[]): Trial | null;
  /** What bounds the spots of every trial; empty where the rework cannot be solved at some frequency. */
  spots(): readonly Spot[];
  /** Stages solved so far. */
  readonly solved: number;
}

/** Keys of a part and its type that no equation has. */
export const unseen: readonly string[] = [
  ...['place', 'body', 'seat', 'tolerance', 'rated', 'build', 'fitted'],
  ...['caseLeads', 'otherCases', 'caseForm'],
];

/** Boards kept: each holds a factored network of some hundred kilobytes. */
const mostBoards = 64;

/**
 * Choices that differ in values alone, in any of the places, are solved on one compiled board, written anew each time; a semiconductor, a
 * string, or a part for a place that holds another number of them has a board of its own.
 */
export function trialBench(base: Stage, drawn: Probe, limits: Limits, places: readonly ChoicePlace[]): TrialBench {
  const writable = places
    .map((place): Choice => ({ place, parts: place.planned.flat() }))
    .filter(({ place, parts }) => isLive({ place, parts }) && isOfOneKind(parts, place));
  const live = new Set(writable.map(({ place }) => place.refs.join('/')));
  const boards = new Map<string, TrialBoard | null>();
  let solved = 0;
  const isWritten = (choice: Choice): boolean => live.has(choice.place.refs.join('/')) && isLive(choice);
  const boardFor = (choices: readonly Choice[]): TrialBoard | null => {
    const own = choices.filter((choice) => !isWritten(choice));
    const key = own.map(keyOf).join('|');
    const known = boards.get(key);
    if (known !== undefined) return known;
    if (boards.size >= mostBoards) boards.clear();
    const replaced = new Set(own.map(({ place }) => place.refs.join('/')));
    const kept = writable.filter(({ place }) => !replaced.has(place.refs.join('/')));
    const board = trialBoard(base, [...kept, ...own.filter(isLive)], own, drawn, limits);
    boards.set(key, board);
    return board;
  };
  return {
    get solved() {
      return solved;
    },
    spots: () => boardFor([])?.spots ?? [],
    try(choices) {
      solved += 1;
      const parts = choices.flatMap((choice) => (isLive(choice) ? choice.parts : []));
      return boardFor(choices)?.solve(parts) ?? null;
    },
  };
}

/** One part a position, which has a value that can be written. */
function isLive({ place, parts }: Choice): boolean {
  return (
    parts.length === place.refs.length &&
    parts.every((part) => ['resistor', 'capacitor', 'inductor'].includes(part.kind) && (mainValue(part) ?? 0) > 0)
  );
}

function isOfOneKind(parts: readonly Part[], { drawn }: ChoicePlace): boolean {
  return parts.every(({ kind, ref }, n) => kind === drawn[n]?.kind && ref === drawn[n]?.ref);
}

function keyOf(choice: Choice): string {
  const what = isLive(choice)
    ? 'values'
    : JSON.stringify(choice.parts, (key, value: unknown) => (unseen.includes(key) ? undefined : value));
  return `${choice.place.refs.join('/')} ${what}`;
}
