import { dirname, isAbsolute, join } from 'node:path';
import { readResponseCsv } from '@curvewright/capture';
import { circuitOf, type Circuit, type Diagnostic, type Job, type Outcome, type State } from '@curvewright/board';
import {
  evidenceOf,
  measuredCurve,
  suspectSteps,
  type Evidence,
  type MeasuredResponse,
  type SuspectRequest,
} from '@curvewright/verify';
import { suspectPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Conditions } from '../conditions.ts';
import type { Desk } from '../desk.ts';
import { readText } from '../files.ts';
import { untilInterrupted } from '../interrupt.ts';
import { runSteps } from '../run-steps.ts';
import { cartridgeNamed } from '../stage-of.ts';
import { readSubject } from '../subject.ts';

export interface SuspectOptions extends Conditions {
  readonly json?: boolean;
  readonly state?: Exclude<State, 'drawn'>;
  readonly cartridge?: string;
}

interface Suspecting {
  readonly title: string;
  readonly state: Exclude<State, 'drawn'>;
  readonly request: SuspectRequest;
}

/** Which single fault, or pair, explains what was read and heard, and what to look at next; Ctrl-C ends it without an answer. */
export async function suspect(file: string, options: SuspectOptions, desk: Desk): Promise<Status> {
  const json = options.json ?? false;
  const prepared = prepare(file, options);
  if (!prepared.ok) return refuse(desk, prepared.diagnostics, json);
  const { title, state, request } = prepared.value;
  const answer = await untilInterrupted((signal) =>
    runSteps(suspectSteps(request), signal, (share) => {
      desk.progress(`${Math.floor(100 * share)} % of the faults solved`);
    }),
  );
  desk.progress('');
  if (answer === null) return refuse(desk, [trouble(file, 'stopped before the faults were all solved')], json);
  if (!answer.ok) return refuse(desk, answer.diagnostics, json);
  if (json) printJson(desk, { title, state, ...answer.value });
  else desk.out(suspectPage(answer.value, { title, state, ...desk }));
  return 0;
}

function prepare(file: string, options: SuspectOptions): Outcome<Suspecting> {
  const read = readSubject(file, options);
  if (!read.ok) return read;
  const subject = read.value;
  if (subject.kind === 'board') {
    const message = 'a board file alone has no readings; name a job file with readings:';
    return { ok: false, diagnostics: [trouble(file, message)] };
  }
  const { job } = subject;
  const state = options.state ?? job.readings.at(-1)?.state ?? job.entry.measured?.state ?? 'found';
  const source = options.cartridge === undefined ? null : cartridgeNamed(subject, options.cartridge, file);
  if (source !== null && !source.ok) return source;
  const evidence = evidenceIn(job, file, state);
  if (!evidence.ok) return evidence;
  return {
    ok: true,
    value: {
      title: job.entry.title,
      state,
      request: {
        circuit: boardIn(job, state),
        source: source?.value ?? { resistance: 0, inductance: 0, capacitance: 0 },
        matched: job.board.matched,
        evidence: evidence.value,
        ...(job.entry.suspecting && { suspecting: job.entry.suspecting }),
      },
    },
  };
}

/** The board the readings were taken on: where nothing was pulled, as drawn. */
function boardIn(job: Job, state: State): Circuit {
  return (circuitOf(job, state) ?? circuitOf(job, 'drawn'))?.circuit ?? job.board.circuit;
}

function evidenceIn(job: Job, file: string, state: Exclude<State, 'drawn'>): Outcome<Evidence> {
  const { measured } = job.entry;
  const channels = job.board.circuit.channels.map(({ name }) => name);
  const named = measured?.state === state ? Object.entries(measured.response ?? {}) : [];
  const read: Record<string, readonly { readonly hz: number; readonly db: number }[]> = {};
  for (const [channel, path] of named) {
    const at = isAbsolute(path) ? path : join(dirname(file), path);
    const text = readText(at);
    if (!text.ok) return text;
    const points = readResponseCsv(text.value, at);
    if (!points.ok) return points;
    read[channel] = points.value;
  }
  const response: MeasuredResponse | null = named.length === 0 ? null : measuredCurve(read);
  return { ok: true, value: evidenceOf(job, state, channels, response) };
}

function trouble(file: string, message: string): Diagnostic {
  return { code: 'wrong-form', place: { file, line: 1, column: 1 }, message };
}
