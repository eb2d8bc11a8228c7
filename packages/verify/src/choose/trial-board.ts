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
import { lineFigures } from './line-figures.ts';
import { spotsOf, type Spot } from './spots.ts';
import { heldAgainstReach, trialReader, type Trial } from './trial.ts';

/** A network compiled once, with room for the values of what is put in. */
export interface TrialBoard {
  readonly spots: readonly Spot[];
  /** With these parts' values, all others as they were; null without a bias. */
  solve(parts: readonly Part[]): Trial | null;
}

/** Ω of a silent ESR and of a silent leakage on the bench: neither moves a level by 0.0001 dB beside what else stands in a stage. */
const [hardlyInSeries, hardlyAcross] = [1e-3, 1e13];

/** The rework with `changed` in it; the parts of `written` have one value each. Null where it cannot be solved. */
export function trialBoard(
  base: Stage,
  written: readonly Choice[],
  changed: readonly Choice[],
  drawn: Probe,
  limits: Limits,
): TrialBoard | null {
  const roomy = written.map((choice) => ({ ...choice, parts: choice.parts.map(withLosses) }));
  const stage = solveStage(withChoices(withChoices(base.circuit, changed), roomy), base.source, base);
  if (!stage.ok) return null;
  const { network, point } = stage.value;
  const sweep = sweepOf(limits);
  const parts = written.flatMap((choice) => choice.parts);
  const whole = new Set(parts.filter(({ kind }) => kind === 'capacitor').map(({ ref }) => ref));
  const layout = rowLayout(network, sweep);
  const lines = lineFigures(network.circuit, layout, limits);
  const board = createLiveBoard(network, point, sweep.hz, whole, lines.spots);
  if (!board?.transfers) return null;
  const { transfers } = board;
  const reader = boardReader(network, board, sweep, layout, limits);
  const row = new Float64Array(lines.size);
  const plan = spreadPlan(stage.value, drawn.stage, { limits, matched: [], seed: 0 });
  const figures = heldAgainstReach(spreadFigures({ plan, layout, nominal: row }), layout, drawn, limits);
  const spots = spotsOf(figures, layout, sweep, drawn, limits);
  const read = trialReader([...figures, ...lines.figures], spots, layout, sweep, drawn, limits);
  const places = new Map(board.parameters.map(({ ref, parameter }, n) => [`${ref} ${parameter}`, n]));
  const values = Float64Array.from(board.parameters, ({ nominal }) => nominal);
  write(parts);
  const asBefore = values.slice();
  let turn = 0;

  function write(all: readonly Part[]): void {
    for (const part of all) {
      writeOne(part.ref, 'value', mainValue(part)!);
      if (part.kind !== 'capacitor') continue;
      writeOne(part.ref, 'esr', lossy(part).esr);
      writeOne(part.ref, 'leakage', lossy(part).leakage);
      writeOne(part.ref, 'loss', part.loss ?? 0);
    }
  }

  function writeOne(ref: string, parameter: string, value: number): void {
    const at = places.get(`${ref} ${parameter}`);
    if (at !== undefined) values[at] = value;
  }

  return {
    spots,
    solve(chosen) {
      values.set(asBefore);
      write(chosen);
      if (!board.solve(values, turn++)) return null;
      reader.readRow(row);
      lines.readInto(row, transfers);
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
