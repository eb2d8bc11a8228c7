import type { Outcome } from '@curvewright/board';
import { comparedRounds, voltageChart, warmUps, type ComparedRound } from '@curvewright/verify';
import { voltsPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { meterOf, usualMeter } from '../meter.ts';
import type { MeterOption } from '../options.ts';
import { stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface VoltsOptions extends StageRequest {
  readonly json?: boolean;
  readonly meter?: MeterOption;
  /** V that a meter in Ω/V is switched to. */
  readonly range?: number;
}

/** The voltage chart, as computed and as the meter will read it. */
export function volts(file: string, options: VoltsOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const asked = meterAsked(file, options);
  if (!asked.ok) return refuse(desk, asked.diagnostics, json);
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { title, state, stage } = solved.value;
  const chart = voltageChart(stage, asked.value ?? readingsMeter(solved.value) ?? usualMeter);
  const rounds = roundsOf(solved.value);
  const warm = warmUps(rounds);
  const read = rounds.map(({ round: { state: at, onFor }, readings }) => ({
    ...{ state: at, onForS: onFor ?? null, readings },
  }));
  if (json) printJson(desk, { title, state, ...chart, read, warm });
  else desk.out(voltsPage(chart, { title, state, rounds, warm, ...desk }));
  return 0;
}

/** Ω of the meter that the command names; undefined where it names none. */
function meterAsked(file: string, { meter, range }: VoltsOptions): Outcome<number | undefined> {
  const inOhms = meter === undefined || 'ohms' in meter;
  if (inOhms && range === undefined) return { ok: true, value: meter?.ohms };
  if (!inOhms && range !== undefined) return { ok: true, value: meter.ohmsPerVolt * range };
  const message = inOhms
    ? "a range is that of a meter in Ω/V; write --meter '20 kΩ/V', or leave --range out"
    : "a meter in Ω/V draws what its range asks for; write --range '10 V' beside it";
  return { ok: false, diagnostics: [{ code: 'wrong-form', place: { file, line: 1, column: 1 }, message }] };
}

/** What was read of this state. */
function roundsOf({ subject, state }: SubjectStage): readonly ComparedRound[] {
  return subject.kind === 'job' ? comparedRounds(subject.job).filter(({ round }) => round.state === state) : [];
}

function readingsMeter({ subject, state }: SubjectStage): number | undefined {
  return subject.kind === 'job' ? meterOf(subject.job, state) : undefined;
}
