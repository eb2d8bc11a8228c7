import type { Outcome } from '@curvewright/board';
import { voltageChart } from '@curvewright/verify';
import { voltsPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import type { MeterOption } from '../options.ts';
import { stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface VoltsOptions extends StageRequest {
  readonly json?: boolean;
  readonly meter?: MeterOption;
  /** V that a meter in Ω/V is switched to. */
  readonly range?: number;
}

/** Ω of the meter where neither the command nor the job's readings say: a digital multimeter's, common practice, no source. */
const usualMeter = 10e6;

/** The voltage chart, as computed and as the meter will read it. */
export function volts(file: string, options: VoltsOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const asked = meterAsked(file, options);
  if (!asked.ok) return refuse(desk, asked.diagnostics, json);
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { title, state, stage } = solved.value;
  const chart = voltageChart(stage, asked.value ?? meterOf(solved.value) ?? usualMeter);
  if (json) printJson(desk, { title, state, ...chart });
  else desk.out(voltsPage(chart, { title, state, ...desk }));
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

/** Ω of the meter of the job's readings in this state. */
function meterOf({ subject, state }: SubjectStage): number | undefined {
  if (subject.kind !== 'job') return undefined;
  const meter = subject.job.readings.find((reading) => reading.state === state)?.meter;
  if (meter === undefined) return undefined;
  return 'resistance' in meter ? meter.resistance : meter.sensitivity * meter.range;
}
