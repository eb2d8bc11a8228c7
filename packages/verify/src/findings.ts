import type { Limits } from '@curvewright/board';
import { causeOf, type Cause } from './cause.ts';
import type { CauseContext } from './cause-search.ts';
import { figuresOf, type Figure, type Probe } from './figure.ts';
import type { Finding } from './finding.ts';
import { levelOf, marginTo, type Judged } from './judge.ts';
import type { SolvedState } from './state-answer.ts';
import type { Steps } from './steps.ts';
import { toldCauseOf } from './told-cause.ts';
import { toldFigures } from './told-figures.ts';
import { variantsOf } from './variants.ts';

/**
 * The figures of a state as findings, one a step. Of the node voltages that are good only the one with the least margin is listed;
 * gain and node voltages have nothing to be held against in the drawn state.
 */
export function* findingSteps(
  { state, probe, further, reader, changed }: SolvedState,
  limits: Limits,
  drawn: Probe,
  counts: boolean,
): Steps<readonly Finding[]> {
  const reference = state === 'drawn' ? null : drawn;
  const figures = figuresOf(probe, limits, reference);
  const told = toldFigures(probe, further, reader, limits);
  const variants = variantsOf(probe, drawn.stage.circuit);
  const context: CauseContext = {
    probe,
    drawn: reference,
    changes: changed,
    figures,
    told,
    further: reader,
    limits,
    variants,
    seekRemedy: counts,
    offers: [],
  };
  const finding = (figure: Judged, cause: Cause): Finding => {
    const channel = figure.channel === null ? null : probe.stage.circuit.channels[figure.channel]!.name;
    const { what, value, unit, where } = figure;
    const margin = marginTo(figure, figure.good);
    return { level: levelOf(figure), what, state, channel, counts, value, margin, unit, where, ...cause };
  };
  const judged = judgedFigures(figures);
  const findings: Finding[] = [];
  for (const figure of judged) {
    findings.push(finding(figure, causeOf(figure, context)));
    yield findings.length / (judged.length + told.length);
  }
  for (const figure of told) {
    findings.push(finding(figure, toldCauseOf(figure, context)));
    yield findings.length / (judged.length + told.length);
  }
  return findings;
}

function judgedFigures(figures: readonly Figure[]): readonly Figure[] {
  const nodes = figures.filter(({ what }) => what === 'node_volts');
  const tightest = nodes.toSorted((a, b) => marginTo(a, a.good) - marginTo(b, b.good))[0];
  return figures.filter((figure) => figure.what !== 'node_volts' || figure === tightest || levelOf(figure) !== 'good');
}
