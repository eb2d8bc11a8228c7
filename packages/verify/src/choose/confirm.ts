import type { Circuit } from '@curvewright/board';
import { figuresOf } from '../figure.ts';
import { furtherReader } from '../further-answers.ts';
import { gainReader } from '../gain-reader.ts';
import { humAnswer } from '../hum.ts';
import { levelOf, worstLevel, type Judged, type Level } from '../judge.ts';
import type { SettleAnswer } from '../settle.ts';
import { solveStage, type Stage } from '../stage.ts';
import { toldFigures } from '../told-figures.ts';
import type { ChoiceSetting } from './setting.ts';
import { shareOf } from './trial.ts';

export interface Confirmed {
  readonly level: Level;
  /** Figures that are not good, the worst first. */
  readonly open: readonly Judged[];
  /** The least margin as a share of its limit. */
  readonly margin: number;
  readonly stage: Stage;
  readonly settle: SettleAnswer | null;
}

/** A rework judged by every limit, as a check judges it, without what the parts' own ratings and sizes say; null where it has no bias. */
export function confirm(circuit: Circuit, { base, drawn, limits, loops }: ChoiceSetting): Confirmed | null {
  const solved = solveStage(circuit, base.stage.source, base.stage);
  if (!solved.ok) return null;
  const stage = solved.value;
  const probe = { stage, reader: gainReader(stage) };
  const further = furtherReader(loops, limits);
  const told = toldFigures(probe, { hum: humAnswer(stage) }, further, limits);
  const figures: readonly Judged[] = [...figuresOf(probe, limits, drawn), ...told];
  const open = figures.filter((figure) => levelOf(figure) !== 'good');
  return {
    level: worstLevel(open.map((figure) => levelOf(figure))),
    open: open.toSorted((a, b) => shareOf(a, a.value) - shareOf(b, b.value)),
    margin: Math.min(...figures.map((figure) => shareOf(figure, figure.value))),
    stage,
    settle: further.settle(probe),
  };
}
