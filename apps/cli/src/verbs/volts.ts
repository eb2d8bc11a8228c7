import { voltageChart } from '@curvewright/verify';
import { voltsPage } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface VoltsOptions extends StageRequest {
  readonly json?: boolean;
  /** Ω. */
  readonly meter?: number;
}

/** Ω of the meter where neither the command nor the job's readings say: a digital multimeter's, common practice, no source. */
const usualMeter = 10e6;

/** The voltage chart, as computed and as the meter will read it. */
export function volts(file: string, options: VoltsOptions, desk: Desk): Status {
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, options.json ?? false);
  const { title, state, stage } = solved.value;
  const chart = voltageChart(stage, options.meter ?? meterOf(solved.value) ?? usualMeter);
  if (options.json) printJson(desk, { title, state, ...chart });
  else desk.out(voltsPage(chart, { title, state, ...desk }));
  return 0;
}

/** The meter of the job's readings in this state. */
function meterOf({ subject, state }: SubjectStage): number | undefined {
  if (subject.kind !== 'job') return undefined;
  const meter = subject.job.readings.find((reading) => reading.state === state)?.meter;
  if (meter === undefined) return undefined;
  return 'resistance' in meter ? meter.resistance : meter.sensitivity * meter.range;
}
