import type { Job, State } from '@curvewright/board';

/** Ω of the meter where neither the command nor the job's readings say: a digital multimeter's, common practice, no source. */
export const usualMeter = 10e6;

/** Ω of the meter of a job's readings in this state; undefined where it names none. */
export function meterOf(job: Job, state: State): number | undefined {
  const meter = job.readings.find((reading) => reading.state === state)?.meter;
  if (meter === undefined) return undefined;
  return 'resistance' in meter ? meter.resistance : meter.sensitivity * meter.range;
}
