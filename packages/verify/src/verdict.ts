import { figuresOf } from './figure.ts';
import { fitFindings } from './fit/fit-findings.ts';
import { furtherReader, furtherSteps } from './further-answers.ts';
import { levelOf, worstLevel, type Level } from './judge.ts';
import { withReach } from './spread/with-reach.ts';
import type { StagedJob } from './staged-job.ts';
import { within, type Steps } from './steps.ts';
import { toldFigures } from './told-figures.ts';

/** The verdict of a whole check without its causes, remedies and other states: a fifth of the time. */
export function* verdictSteps({ limits, loops, job, states }: StagedJob): Steps<Level> {
  const [drawn, last] = [states[0], states.at(-1)];
  if (drawn === undefined || last === undefined) throw new RangeError('a verdict without a state');
  const { probe } = last;
  const figures = figuresOf(probe, limits, job === null ? null : withReach(drawn.probe, job.board));
  yield 0.2;
  const reader = furtherReader(loops, limits);
  const further = yield* within(0.2, 1, furtherSteps(probe, reader));
  const levels = [...figures, ...toldFigures(probe, further, reader, limits)].map((figure) => levelOf(figure));
  const fit = fitFindings({ ...last, further }, limits, last === drawn ? null : drawn.probe, true);
  return worstLevel([...levels, ...fit.map(({ level }) => level)]);
}
