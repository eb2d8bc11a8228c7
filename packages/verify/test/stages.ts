import { joinJob, readBoard, readJob, type Board, type Circuit, type Job, type Outcome } from '@curvewright/board';
import type { Probe } from '../src/figure.ts';
import { gainReader, solveStage, type Stage } from '../src/index.ts';

/** Throws what is wrong, which fails the test that asked. */
export function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.diagnostics.map(({ message }) => message).join('\n'));
  return outcome.value;
}

/** A board of one channel from node `in` to node `out` with these parts, one a line; `more` holds further keys of the file. */
export function monoBoard(parts: string, more: string = ''): Board {
  return valueOf(readBoard(`${head}output: { node: out }\n${more}\nparts:\n${indented(parts)}\n`, 'mono.board.yaml'));
}

/** The same with channels left and right; parts are keyed in pairs. */
export function stereoBoard(parts: string, more: string = ''): Board {
  const text = `${head}channels: [left, right]\noutput: { node: out }\n${more}\nparts:\n${indented(parts)}\n`;
  return valueOf(readBoard(text, 'stereo.board.yaml'));
}

const head = 'board: 1\ntitle: invented\ninput: { node: in }\n';

const indented = (lines: string): string =>
  lines
    .trim()
    .split('\n')
    .map((line) => `  ${line.trim()}`)
    .join('\n');

/** A job on a board; `positions` one a line, `more` further keys. */
export function jobOn(board: Board, positions: string, more: string = ''): Job {
  const text = `job: 1\ntitle: invented\nboard: x.board.yaml\n${more}\npositions:\n${indented(positions)}\n`;
  return valueOf(joinJob(valueOf(readJob(text, 'x.job.yaml')), board));
}

export function stageOf(circuit: Circuit): Stage {
  return valueOf(solveStage(circuit));
}

export function probeOf(circuit: Circuit): Probe {
  const stage = stageOf(circuit);
  return { stage, reader: gainReader(stage) };
}

/**
 * An inverting stage of an op-amp without limits whose arm (R1 ∥ C1) + (R2 ∥ C2) is the playback curve exactly: T1 and T3 its two time
 * constants, R1/R2 = (T1 − T2)/(T2 − T3) (S. P. Lipshitz, JAES 27(6), 1979, re-derived). Its output node is `o`.
 */
export const idealEqualiser: string = `
  R1: { kind: resistor, value: 27 kΩ, between: [in, m] }
  R2: { kind: resistor, value: 286.2 kΩ, between: [m, n] }
  C2: { kind: capacitor, value: ${3180e3 / 286_200} nF, between: [m, n] }
  R3: { kind: resistor, value: 24.3 kΩ, between: [n, o] }
  C3: { kind: capacitor, value: ${75e3 / 24_300} nF, between: [n, o] }
  U1: { type: OA, plus: gnd, minus: m, out: o }`;

export const idealAmplifier: string = 'types: { OA: { kind: opamp } }';
