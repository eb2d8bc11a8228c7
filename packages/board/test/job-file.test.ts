import { describe, expect, it } from 'vitest';
import { readJob } from '../src/read-job.ts';
import { jobJsonSchema } from '../src/schema/job-schema.ts';
import type { JobEntry } from '../src/schema/job-schema.ts';
import { faultsOf, jobText, wholeJob } from './job-texts.ts';

function entryOf(text: string): JobEntry {
  const outcome = readJob(text, 'j.job.yaml');
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.diagnostics));
  return outcome.value.value;
}

describe('a job file with every key', () => {
  const entry = entryOf(wholeJob);

  it('keeps its texts as written: a leading zero, a date, a comma within braces', () => {
    expect(entry.unit).toEqual({ model: 'LK 417', serial: '0104417' });
    expect(entry.date).toBe('2026-03-01');
    expect(entry.complaint).toBe('intermittent pops, right louder');
    expect(entry.positions?.R101?.why).toBe('reads 1 % high, left in');
    expect(entry.reminders).toEqual(['insulating sheet back under the board', 'four screws']);
    expect(entry.photos).toEqual(['photos/before.jpg']);
  });

  it('reads figures into SI units, and leaves those open that need the position', () => {
    expect(entry.ambient).toBe(25);
    expect(entry.positions?.['C101/C102']).toEqual({
      pulled: { value: '0.91 µF', leakage: { ohms: 400e3 } },
      fit: { build: 'film', value: '1 µF', rated: '100 V', body: { pitch: 0.005, height: 0.009 } },
    });
    expect(entry.types?.['HN-B']).toMatchObject({ kind: 'npn', hFE: [{ value: 400, at: 0 }] });
    expect(entry.limits).toEqual({ deviation: { good: 0.7 } });
  });

  it('keeps readings and measurements', () => {
    expect(entry.readings?.map((each) => each.meter)).toEqual([
      { resistance: 10e6, accuracy: 0.01 },
      { sensitivity: 20e3, range: 10, accuracy: 0.03 },
    ]);
    expect(entry.readings?.[0]?.volts).toEqual({
      'Q101.collector': 2.41,
      'e1@left': 1.1,
      'Q101.base-Q101.emitter': 0.61,
    });
    expect(entry.readings?.[0]?.heard).toEqual([{ what: 'popping', channel: 'right' }, { what: 'scratchy control' }]);
    expect(entry.readings?.[0]).toMatchObject({ hiss: { left: 0.9e-6 }, hum: { right: -62 }, pops: { right: 12 } });
    expect(entry.suspecting).toEqual({ priors: { leaky: 9 }, minutes: { lift: 12 }, misheard: 0.2 });
    expect(entry.measured).toEqual({
      state: 'rebuilt',
      at: 'board',
      response: { left: 'l.csv', right: 'r.csv' },
      recordings: [],
      loopback: null,
      adapter: null,
    });
  });
});

describe('faults of form', () => {
  it.each([
    ['another version', wholeJob.replace('job: 1', 'job: 2'), 'wrong-version at 1:6'],
    ['no board', wholeJob.replace(/^board: .*$/m, ''), 'missing-key at 1:1'],
    ['a misspelt key', jobText('reminder: [x]'), 'unknown-key at 4:1'],
    ['no designator', jobText('positions: { c101: { fit: none } }'), 'not-a-designator at 4:14'],
    ['a marking code for a value', jobText('positions: { C103: { fit: { value: 104 } } }'), 'bare-number at 4:36'],
    [
      'a comma decimal within braces',
      jobText('positions: { C103: { fit: { value: 0,33 µF } } }'),
      'comma-decimal at 4:36',
    ],
    ['volts for a value', jobText('positions: { C103: { fit: { value: 5 V } } }'), 'wrong-unit at 4:36'],
    ['an unknown fault', jobText('positions: { C103: { pulled: { faults: [tired] } } }'), 'wrong-form at 4:41'],
    ['another word for a fit', jobText('positions: { C103: { fit: empty } }'), 'wrong-form at 4:27'],
    ['an empty string of parts', jobText('positions: { C103: { fit: [] } }'), 'wrong-form at 4:27'],
    ['an unknown sound', jobText('readings: [{ state: found, heard: [{ what: buzz }] }]'), 'wrong-form at 4:44'],
    ['readings of the drawing', jobText('readings: [{ state: drawn }]'), 'wrong-form at 4:21'],
    [
      'a meter without its range',
      jobText('readings: [{ state: found, meter: { sensitivity: 20 kΩ/V, accuracy: 3 % } }]'),
      'missing-key at 4:28',
    ],
  ])('%s', (_, text, fault) => {
    expect(faultsOf(text)).toEqual([fault]);
  });
});

describe('the JSON Schema of a job file', () => {
  it('names every key, with descriptions, and demands no more than the head', () => {
    const schema = jobJsonSchema() as { properties: Record<string, { description?: string }>; required: string[] };
    const keys = entryOf(wholeJob);
    expect(Object.keys(schema.properties).sort()).toEqual(Object.keys(keys).sort());
    expect(schema.required).toEqual(['job', 'title', 'board']);
    for (const [key, { description }] of Object.entries(schema.properties))
      expect([key, description]).not.toContain(undefined);
  });

  it('lets loopback and adapter be null, and a fit be none, a part, a list or a pair side by side', () => {
    const text = JSON.stringify(jobJsonSchema());
    expect(text).toContain('"null"');
    expect(text).toContain('"parallel"');
    expect(text).toContain('"none"');
  });
});
