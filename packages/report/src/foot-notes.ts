import type { CheckAnswer } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { diagnosticLines } from './diagnostic-lines.ts';
import { refRuns } from './ref-runs.ts';
import { pageWidth, type PageOptions } from './page-options.ts';
import { statesShown } from './states-shown.ts';

/** Above this a supply asks for more than the usual care. */
const highVolts = 60;

/** What the answer leans on and no file states, and what no computation can say. */
export function footNotes(answer: CheckAnswer, options: PageOptions): readonly string[] {
  const width = pageWidth(options);
  const { found } = answer.states;
  const shown = statesShown(answer);
  const [, counting] = shown.at(-1) ?? ['drawn', answer.states.drawn];
  const effects = new Set(answer.effects.map(({ ref }) => ref));
  const others = counting.changed.filter(({ position }) => !effects.has(position));
  return [
    ...others.flatMap(({ position, description }) => hanging('Also changed: ', `${position}, ${description}`, width)),
    ...(found === null || found.assumed.length === 0
      ? []
      : hanging('As found, taken as drawn: ', refRuns(found.assumed), width)),
    ...(answer.unsolved.length === 0
      ? []
      : [
          'As found there is no bias:',
          ...diagnosticLines(answer.unsolved)
            .split('\n')
            .flatMap((line) => wrap(line, width)),
        ]),
    ...[...new Set(shown.flatMap(([, { notes }]) => notes))].flatMap((note) => hanging('Note: ', note, width)),
    ...counting.ideal.flatMap(({ figure, refs }) => hanging('Taken as ideal: ', `${figure} (${refRuns(refs)})`, width)),
    ...wrap(scope, width),
    ...wrap(cautions(answer), width),
  ];
}

const scope = 'Computed from the files; nothing was measured. Software cannot prove a unit safe.';

function cautions({ states }: CheckAnswer): string {
  const volts = states.drawn.channels.flatMap(({ nodes }) => nodes.map((node) => Math.abs(node.volts)));
  const high = volts.some((value) => value > highVolts)
    ? ` Over ${highVolts} V on this board: one hand, insulated probes.`
    : '';
  return (
    `On the bench: mains off and unplugged, capacitors discharged and checked.${high} ` +
    'Local codes hold; mains work is for those licensed to do it.'
  );
}
