import type { Circuit } from '@curvewright/board';
import { figuresOf, type Probe } from '../figure.ts';
import { furtherReader } from '../further-answers.ts';
import { gainReader } from '../gain-reader.ts';
import { humAnswer } from '../hum.ts';
import { levelOf, worstLevel, type Judged, type Level } from '../judge.ts';
import { crosstalkFigure, humFigure } from '../rail-figures.ts';
import { solveStage } from '../stage.ts';
import { toldFigures } from '../told-figures.ts';
import type { ChoiceSetting } from './setting.ts';
import { shareOf } from './trial.ts';

/** By how many limits something was judged. */
export type Depth = 'bias and curve' | 'bias, curve, hum and crosstalk' | 'every limit';

export interface Confirmed {
  readonly level: Level;
  /** Figures that are not good, the worst first. */
  readonly open: readonly Judged[];
  /** The least margin as a share of its limit. */
  readonly margin: number;
  readonly probe: Probe;
}

/** A rework judged as a check judges it, without what the parts' own ratings and sizes say; null where it has no bias. */
export function confirm(
  circuit: Circuit,
  { base, drawn, limits, loops }: ChoiceSetting,
  depth: Exclude<Depth, 'bias and curve'>,
): Confirmed | null {
  const stage = solveStage(circuit, base.stage.source, base.stage);
  if (!stage.ok) return null;
  const probe = { stage: stage.value, reader: gainReader(stage.value) };
  const further = furtherReader(loops, limits);
  const hum = humAnswer(probe.stage);
  const channels = circuit.channels.map((_, channel) => channel);
  const told =
    depth === 'every limit'
      ? toldFigures(probe, { hum }, further, limits)
      : channels.flatMap((channel) => [
          ...humFigure(probe, further, hum, limits, channel),
          ...crosstalkFigure(probe, further, limits, channel),
        ]);
  const figures: readonly Judged[] = [...figuresOf(probe, limits, drawn), ...told];
  const open = figures.filter((figure) => levelOf(figure) !== 'good');
  return {
    level: worstLevel(open.map((figure) => levelOf(figure))),
    open: open.toSorted((a, b) => shareOf(a, a.value) - shareOf(b, b.value)),
    margin: Math.min(...figures.map((figure) => shareOf(figure, figure.value))),
    probe,
  };
}
