import type { Capacitor, Limits, Part } from '@curvewright/board';
import { createLiveBoard } from '@curvewright/network';
import type { Probe } from '../figure.ts';
import { mainValue } from '../part-value.ts';
import { boardReader, rowLayout } from '../spread/board-row.ts';
import { spreadPlan } from '../spread/runner.ts';
import { spreadFigures } from '../spread/spread-figures.ts';
import { sweepOf } from '../spread/sweep.ts';
import { solveStage, type Stage } from '../stage.ts';
import { withChoices, type Choice } from './choice-place.ts';
import { spotsOf, type Spot } from './spots.ts';
import { heldAgainstReach, trialReader, type Trial } from './trial.ts';

/** Puts parts into the rework and judges its bias and curve with them. */
export interface TrialBench {
  /** Null where the stage then has no bias. */
  try(choices: readonly Choice[]): Trial | null;
  /** What bounds the spots of every trial; empty where the rework cannot be solved at some frequency. */
  spots(): readonly Spot[];
  /** Stages solved so far. */
  readonly solved: number;
}

/** Ω of a silent ESR and of a silent leakage on the bench: neither moves a level by 0.0001 dB beside what else stands in a stage. */
const [hardlyInSeries, hardlyAcross] = [1e-3, 1e13];

/** A network compiled once, with places for the values of what is put in. */
interface Shape {
  readonly spots: readonly Spot[];
  solve(parts: readonly Part[]): Trial | null;
}

/** Shapes kept: each holds a factored board of some hundred kilobytes. */
const mostShapes = 64;

/**
 * Choices that differ in values alone are solved on one compiled board, written anew each time; a semiconductor, a string or an empty place
 * has a board of its own.
 */
export function trialBench(base: Stage, drawn: Probe, limits: Limits): TrialBench {
  const shapes = new Map<string, Shape | null>();
  let solved = 0;
  const shapeFor = (choices: readonly Choice[]): Shape | null => {
    const key = choices.map(shapeKey).join('|');
    const known = shapes.get(key);
    if (known !== undefined) return known;
    if (shapes.size >= mostShapes) shapes.clear();
    const shape = shapeOf(choices, base, drawn, limits);
    shapes.set(key, shape);
    return shape;
  };
  return {
    get solved() {
      return solved;
    },
    spots: () => shapeFor([])?.spots ?? [],
    try(choices) {
      solved += 1;
      const parts = choices.flatMap((choice) => (isLive(choice) ? choice.parts : []));
      return shapeFor(choices)?.solve(parts) ?? null;
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

function shapeKey(choice: Choice): string {
  const what = isLive(choice)
    ? 'values'
    : JSON.stringify(choice.parts, (key, value: unknown) => (key === 'place' || key === 'body' ? undefined : value));
  return `${choice.place.refs.join('/')} ${what}`;
}

function shapeOf(choices: readonly Choice[], base: Stage, drawn: Probe, limits: Limits): Shape | null {
  const live = choices.filter(isLive);
  const filled = choices.map((choice) =>
    isLive(choice) ? { ...choice, parts: choice.parts.map(withLosses) } : choice,
  );
  const stage = solveStage(withChoices(base.circuit, filled), base.source, base);
  if (!stage.ok) return null;
  const { network, point } = stage.value;
  const sweep = sweepOf(limits);
  const whole = new Set(
    live.flatMap(({ parts }) => parts.filter(({ kind }) => kind === 'capacitor').map(({ ref }) => ref)),
  );
  const board = createLiveBoard(network, point, sweep.hz, whole);
  if (board === null) return null;
  const layout = rowLayout(network, sweep);
  const reader = boardReader(network, board, sweep, layout, limits);
  const row = new Float64Array(layout.size);
  const plan = spreadPlan(stage.value, drawn.stage, { limits, matched: [], seed: 0 });
  const figures = heldAgainstReach(spreadFigures({ plan, layout, nominal: row }), layout, drawn, limits);
  const spots = spotsOf(figures, layout, sweep, drawn, limits);
  const read = trialReader(figures, spots, layout, sweep, drawn, limits);
  const values = Float64Array.from(board.parameters, ({ nominal }) => nominal);
  const places = new Map(board.parameters.map(({ ref, parameter }, n) => [`${ref} ${parameter}`, n]));
  let turn = 0;
  const write = (ref: string, parameter: string, value: number): void => {
    const at = places.get(`${ref} ${parameter}`);
    if (at !== undefined) values[at] = value;
  };
  return {
    spots,
    solve(parts) {
      for (const part of parts) {
        write(part.ref, 'value', mainValue(part)!);
        if (part.kind !== 'capacitor') continue;
        write(part.ref, 'esr', lossy(part).esr);
        write(part.ref, 'leakage', lossy(part).leakage);
        write(part.ref, 'loss', part.loss ?? 0);
      }
      if (!board.solve(values, turn++)) return null;
      reader.readRow(row);
      return read(row, reader.gains);
    },
  };
}

function lossy({ esr = 0, leakage = Infinity }: Capacitor): { readonly esr: number; readonly leakage: number } {
  return { esr: Math.max(esr, hardlyInSeries), leakage: Math.min(leakage, hardlyAcross) };
}

/** Every loss in place, so that the compiled board has room for it. */
function withLosses(part: Part): Part {
  return part.kind === 'capacitor' ? { ...part, ...lossy(part), loss: Math.max(part.loss ?? 0, 1e-3) } : part;
}
