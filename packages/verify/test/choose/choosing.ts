import { readFileSync } from 'node:fs';
import { joinJob, readBoard, readDrawer, readJob, type Job, type StockPart } from '@curvewright/board';
import {
  choiceSetting,
  chooseSteps,
  placeNamed,
  planSteps,
  stageJob,
  touchedPlaces,
  type CandidateAnswer,
  type ChoicePlace,
  type ChoiceSetting,
  type PlaceAnswer,
  type PlanAnswer,
} from '../../src/index.ts';
import { atOnce } from '../../src/steps.ts';
import { valueOf } from '../stages.ts';

const seed = (path: string): string => readFileSync(new URL(`../../../../seeds/${path}`, import.meta.url), 'utf8');

/** The demo job; `edit` changes its text. */
export function demoJob(edit: (text: string) => string = (text) => text): Job {
  const board = valueOf(readBoard(seed('boards/lk417.board.yaml'), 'b'));
  return valueOf(joinJob(valueOf(readJob(edit(seed('jobs/lk417.job.yaml')), 'j')), board));
}

export const demoDrawer: readonly StockPart[] = stockOf(seed('drawer.csv'));

/** Rows of a drawer without faults. */
export function stockOf(text: string): readonly StockPart[] {
  const { stock, faults } = valueOf(readDrawer(text, 'd.csv'));
  if (faults[0] !== undefined) throw new Error(faults[0].message);
  return stock;
}

export interface Choosing {
  readonly places: readonly ChoicePlace[];
  readonly setting: ChoiceSetting;
}

/** A job with a drawer beside it; in the positions that it touches, or in the one that is named. */
export function choosing(job: Job, stock: readonly StockPart[], position?: string): Choosing {
  const staged = valueOf(stageJob(job));
  const rebuilt = staged.states.at(-1)!.probe.stage.circuit;
  const places = position === undefined ? touchedPlaces(job, rebuilt) : [placeNamed(position, job, rebuilt)!];
  return { places, setting: choiceSetting(staged, { stock, types: {} }, places) };
}

export function chosenFor(job: Job, stock: readonly StockPart[], position: string, thorough = false): PlaceAnswer {
  const { places, setting } = choosing(job, stock, position);
  return atOnce(chooseSteps(places[0]!, setting, { thorough }));
}

export function planFor(job: Job, stock: readonly StockPart[]): PlanAnswer {
  const { places, setting } = choosing(job, stock);
  return atOnce(planSteps(places, setting));
}

export function candidateOf({ candidates }: PlaceAnswer, stock: string, pieces: number = 1): CandidateAnswer {
  const found = candidates.find((each) => each.stock === stock && each.pieces === pieces);
  if (found === undefined) throw new Error(`no candidate ${stock}`);
  return found;
}
