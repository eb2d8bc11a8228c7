import { checkBoard, checkJob, type CheckAnswer, type Level } from '@curvewright/verify';
import { checkPage } from '@curvewright/report';
import type { Outcome } from '@curvewright/board';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Conditions } from '../conditions.ts';
import type { Desk } from '../desk.ts';
import { measurementOf } from '../measured.ts';
import { readSubject } from '../subject.ts';

export interface CheckOptions extends Conditions {
  readonly json?: boolean;
}

const statusOf: Readonly<Record<Level, Status>> = { good: 0, look: 0, fail: 1, 'not measured': 3 };

/** The main job: what the stage does in each state, findings and a verdict, which is also the exit status. */
export function check(file: string, options: CheckOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const answer = answerFor(file, options);
  if (!answer.ok) return refuse(desk, answer.diagnostics, json);
  if (json) printJson(desk, answer.value);
  else desk.out(checkPage(answer.value, desk));
  return statusOf[answer.value.verdict];
}

function answerFor(file: string, conditions: Conditions): Outcome<CheckAnswer> {
  const subject = readSubject(file, conditions);
  if (!subject.ok) return subject;
  if (subject.value.kind === 'board') return checkBoard(subject.value.board);
  const { job } = subject.value;
  const measurement = measurementOf(job, file);
  return measurement.ok ? checkJob(job, measurement.value) : measurement;
}
