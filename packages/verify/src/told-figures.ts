import type { Limits } from '@curvewright/board';
import { distortionFigure, overloadFigure } from './driven-figures.ts';
import type { Probe } from './figure.ts';
import type { FurtherAnswers, FurtherReader } from './further-answers.ts';
import { hissFigure } from './hiss-figure.ts';
import { poleFigures } from './pole-figures.ts';
import { crosstalkFigure, humFigure } from './rail-figures.ts';
import { settleFigure } from './settle-figure.ts';
import type { ToldFigure } from './told-figure.ts';

/** Hiss, hum, crosstalk, overload, distortion, settling and stability, as far as they could be answered. */
export function toldFigures(
  probe: Probe,
  { hum }: Pick<FurtherAnswers, 'hum'>,
  further: FurtherReader,
  limits: Limits,
): readonly ToldFigure[] {
  const channels = probe.stage.circuit.channels.map((_, channel) => channel);
  return [
    ...channels.map((channel) => hissFigure(probe, further, limits, channel)),
    ...channels.flatMap((channel) => humFigure(probe, further, hum, limits, channel)),
    ...channels.flatMap((channel) => crosstalkFigure(probe, further, limits, channel)),
    ...channels.flatMap((channel) => overloadFigure(probe, further, limits, channel)),
    ...channels.flatMap((channel) => distortionFigure(probe, further, limits, channel)),
    ...channels.flatMap((channel) => settleFigure(probe, further, limits, channel)),
    ...poleFigures(probe, further, limits),
  ];
}
