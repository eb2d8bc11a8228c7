import { circuitOf, mergeLimits, type Board, type Job } from '@curvewright/board';
import { figuresOf, type Figure } from '../src/figure.ts';
import { furtherReader, furtherSteps } from '../src/further-answers.ts';
import type { FigureName } from '../src/judge.ts';
import type { CauseContext } from '../src/cause-search.ts';
import { atOnce } from '../src/steps.ts';
import { toldFigures } from '../src/told-figures.ts';
import { variantsOf } from '../src/variants.ts';
import { idealAmplifier, jobOn, probeOf, stereoBoard } from './stages.ts';

/**
 * Two channels of an exact equaliser, each behind a coupling capacitor that passes the bass down to 3.4 Hz. An inverting
 * stage shows its series resistor at the input, and hisses with it.
 */
export const equaliser: Board = {
  ...stereoEqualiser(),
  limits: { input_resistance: { nominal: 27_000 }, hiss: { good: 2e-6, look: 4e-6 } },
};

function stereoEqualiser(): Board {
  return stereoBoard(
    `
  R101/R102: { kind: resistor, value: 27 kΩ, between: [in, m] }
  R103/R104: { kind: resistor, value: 286.2 kΩ, between: [m, n] }
  C103/C104: { kind: capacitor, build: film, value: ${3180e3 / 286_200} nF, between: [m, n] }
  R105/R106: { kind: resistor, value: 24.3 kΩ, between: [n, o] }
  C105/C106: { kind: capacitor, build: film, value: ${75e3 / 24_300} nF, between: [n, o] }
  U101A/U101B: { type: OA, plus: gnd, minus: m, out: o }
  C109/C110: { kind: capacitor, build: aluminium, value: 4.7 µF, plus: o, minus: out }
  R109/R110: { kind: resistor, value: 10 kΩ, between: [out, gnd] }`,
    idealAmplifier,
  );
}

/** Without positions, a job that leaves all as it is. */
export const jobWith = (positions: string = 'R101: { why: left in }'): Job => jobOn(equaliser, positions);

/** What a cause is looked for in: the rebuilt state of a job against its drawing. */
export function contextOf(job: Job): CauseContext {
  const rebuilt = circuitOf(job, 'rebuilt')!;
  const drawn = probeOf(circuitOf(job, 'drawn')!.circuit);
  const probe = probeOf(rebuilt.circuit);
  const limits = mergeLimits();
  const further = furtherReader([], limits);
  return {
    ...{ probe, drawn, limits, changes: rebuilt.changed, seekRemedy: true, offers: [] },
    figures: figuresOf(probe, limits, drawn),
    told: toldFigures(probe, atOnce(furtherSteps(probe, further)), further, limits),
    further,
    variants: variantsOf(probe, drawn.stage.circuit),
  };
}

export function figureOf(
  { figures }: { figures: readonly Figure[] },
  what: FigureName,
  channel: number | null = 0,
): Figure {
  const found = figures.find((figure) => figure.what === what && figure.channel === channel);
  if (found === undefined) throw new Error(`no ${what}`);
  return found;
}
