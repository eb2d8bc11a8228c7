import { mergeLimits, type Board } from '@curvewright/board';
import type { CauseContext } from '../src/cause-search.ts';
import { figuresOf } from '../src/figure.ts';
import { furtherReader, furtherSteps } from '../src/further-answers.ts';
import type { FigureName } from '../src/index.ts';
import type { ToldFigure } from '../src/told-figure.ts';
import { atOnce } from '../src/steps.ts';
import { toldFigures } from '../src/told-figures.ts';
import { variantsOf } from '../src/variants.ts';
import { probeOf } from './stages.ts';

/** What a cause is looked for in on a plain board, by its own limits. */
export function boardContext(board: Board): CauseContext {
  const limits = mergeLimits(board.limits);
  const probe = probeOf(board.circuit);
  const further = furtherReader(board.loops, limits);
  return {
    ...{ probe, limits, further, drawn: null, changes: [], seekRemedy: true, offers: [] },
    figures: figuresOf(probe, limits, null),
    told: toldFigures(probe, atOnce(furtherSteps(probe, further)), further, limits),
    variants: variantsOf(probe, board.circuit),
  };
}

export function toldOf({ told }: CauseContext, what: FigureName, channel: number | null = 0): ToldFigure {
  const found = told.find((figure) => figure.what === what && figure.channel === channel);
  if (found === undefined) throw new Error(`no ${what}`);
  return found;
}
