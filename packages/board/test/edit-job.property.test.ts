import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { editJob } from '../src/edit/edit-job.ts';
import type { JobEdit } from '../src/edit/job-edit.ts';
import { scalarText } from '../src/edit/written.ts';
import { readYaml } from '../src/read-yaml.ts';
import { commentsIn, oddLayout, type Data } from './odd-layout.ts';

const seed = 20261125;
const seedJob = readFileSync(new URL('../../../seeds/jobs/lk417.job.yaml', import.meta.url), 'utf8');

type Entry = Readonly<Record<string, unknown>>;
interface JobData {
  readonly positions?: Readonly<Record<string, Entry | null>>;
  readonly [key: string]: unknown;
}

const why = fc.constantFrom(
  'worn',
  'worn, left in',
  "it's: so",
  'no #1',
  '- a',
  '~',
  'null',
  '',
  'a\nb',
  '"q"',
  '{',
  'µ @',
);
const part = fc.record(
  { build: fc.constantFrom('film', 'aluminium'), value: fc.constantFrom('1 µF', '33 µF'), rated: fc.constant('63 V') },
  { requiredKeys: [] },
);
const list = fc.constantFrom([{ type: 'DS-A' }, { type: 'DS-A' }], [{ type: 'DS-A', rated: '1 W' }]);
const fit = fc.oneof({ weight: 5, arbitrary: part }, fc.constant('none'), list);
const pulled = fc.record(
  {
    value: fc.constantFrom('0.9 µF', '2 µF'),
    esr: fc.constant('9 Ω'),
    faults: fc.constantFrom(['leaky'], ['leaky', 'noisy']),
  },
  { requiredKeys: [] },
);
const entry = fc.record({ pulled, fit, why }, { requiredKeys: [] });
const designators = ['C101', 'C102', 'C103', 'C104', 'D103'];
const keys = ['C101/C102', 'C103/C104', ...designators];

const job: fc.Arbitrary<Readonly<Record<string, Data>>> = fc
  .record(
    {
      complaint: why,
      positions: fc
        .uniqueArray(fc.constantFrom(...keys), { maxLength: 5 })
        .chain((names) =>
          fc
            .tuple(...names.map((name) => entry.map((each) => [name, each] as const)))
            .map((each) => Object.fromEntries(each)),
        ),
      types: fc.constant({ 'HN-D': { kind: 'npn', hFE: '300' } }),
      reminders: fc.constantFrom<Data[]>(['a', 'b, c'], [], ['d']),
      limits: fc.constantFrom<Data[]>({}, { gain: { good: '0.7 dB' }, hiss: { good: '1 µV' } }),
    },
    { requiredKeys: [] },
  )
  .map((rest) => ({ job: '1', title: 'invented', board: 'b.board.yaml', ...rest }));

const position = fc.constantFrom(...keys);
const setting: fc.Arbitrary<JobEdit> = fc.oneof(
  fc.record({
    kind: fc.constant('set' as const),
    position,
    path: fc.constantFrom('fit.value', 'pulled.value'),
    value: fc.constantFrom('4.7 µF', '33 µF'),
  }),
  fc.record({
    kind: fc.constant('set' as const),
    position,
    path: fc.constantFrom('fit.rated', 'fit.0.rated'),
    value: fc.constantFrom('100 V'),
  }),
  fc.record({ kind: fc.constant('set' as const), position, path: fc.constant('why' as const), value: why }),
);
const edit: fc.Arbitrary<JobEdit> = fc.oneof(
  setting,
  fc.record({
    kind: fc.constant('set' as const),
    position,
    path: fc.constantFrom('fit', 'pulled'),
    value: fc.oneof(
      part,
      part.map((each) => ({ ...each, esr: '1 Ω' })),
    ),
  }),
  fc.record({
    kind: fc.constant('set' as const),
    position,
    path: fc.constant('pulled.faults' as const),
    value: fc.constantFrom(['noisy'], ['leaky'], ['noisy', 'leaky', 'intermittent']),
  }),
  fc.record({
    kind: fc.constant('clear' as const),
    position,
    path: fc.constantFrom(
      'fit',
      'fit.value',
      'fit.rated',
      'pulled',
      'pulled.value',
      'pulled.faults',
      'why',
      'fit.0.type',
    ),
  }),
  fc.record({ kind: fc.constant('remove' as const), position }),
);
const aside: fc.Arbitrary<JobEdit> = fc.oneof(
  fc.record({
    kind: fc.constant('field' as const),
    field: fc.constantFrom('complaint', 'technician'),
    value: fc.oneof(why, fc.constant(null)),
  }),
  fc.record({
    kind: fc.constant('field' as const),
    field: fc.constant('unit.model' as const),
    value: fc.constantFrom('LK 417', null),
  }),
  fc.record({
    kind: fc.constant('field' as const),
    field: fc.constant('reminders' as const),
    value: fc.constantFrom(['a'], ['c', 'a', 'b, c'], ['x', 'y'], []),
  }),
  fc.record({
    kind: fc.constant('limit' as const),
    limit: fc.constantFrom('treble', 'gain'),
    key: fc.constant('good'),
    value: fc.constantFrom('0.9 dB', null),
  }),
);

/** What is said of one designator: what its own key says goes over what its pair says. */
function saidOf(data: JobData, ref: string): Entry {
  const pair = Object.keys(data.positions ?? {}).find((key) => key.includes('/') && key.split('/').includes(ref));
  return { ...data.positions?.[pair ?? ''], ...data.positions?.[ref] };
}

/** The value with `inner` at a path; undefined where a list or a text is in the way. */
function put(value: unknown, [step, ...rest]: readonly string[], inner: unknown): unknown {
  if (step === undefined) return inner;
  if (Array.isArray(value) !== /^\d/.test(step) || (Array.isArray(value) && !(step in value))) return undefined;
  const below = (value === 'none' ? {} : (value ?? {})) as Entry;
  if (typeof below !== 'object') return undefined;
  const changed = put(below[step], rest, inner);
  if (changed === undefined) return undefined;
  return Array.isArray(below)
    ? below.map((each, index) => (index === Number(step) ? changed : (each as unknown)))
    : { ...below, [step]: changed };
}

/** The value without what is at a path and without the mappings that this empties. */
function cut(value: unknown, [step = '', ...rest]: readonly string[]): unknown {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return value;
  const below = rest.length === 0 ? undefined : cut((value as Entry)[step], rest);
  if (Array.isArray(value)) return value.map((each: unknown, index) => (index === Number(step) ? (below ?? {}) : each));
  const left = Object.fromEntries(Object.entries({ ...value, [step]: below }).filter(([, each]) => each !== undefined));
  return Object.keys(left).length === 0 ? undefined : left;
}

/** What each designator shall be said of after an edit of positions; null where the edit leads nowhere. */
function expected(data: JobData, edit: JobEdit): Readonly<Record<string, unknown>> | null {
  const after: Record<string, unknown> = {};
  for (const ref of designators) {
    const said = saidOf(data, ref);
    after[ref] = said;
    if (!('position' in edit) || !edit.position.split('/').includes(ref)) continue;
    if (edit.kind === 'remove') after[ref] = {};
    if (edit.kind === 'clear') after[ref] = cut(said, edit.path.split('.')) ?? {};
    if (edit.kind === 'set') after[ref] = put(said, edit.path.split('.'), edit.value);
    if (after[ref] === undefined) return null;
  }
  return after;
}

type PositionEdit = Extract<JobEdit, { position: string }>;

const dataOf = (text: string): JobData => readYaml(text, 'j').value as JobData;
const saidIn = (data: JobData): unknown => Object.fromEntries(designators.map((ref) => [ref, saidOf(data, ref)]));
const asideOf = ({ positions: _, ...rest }: JobData): unknown => rest;

/**
 * What has to stand in the text as it is, in its order: every line outside the positions, and the text of each position
 * that says nothing of the designators edited (of their twins either, where a pair may be taken apart). In brackets positions may share
 * a line, so that theirs are cut at the last character that is no bracket, comma or comment.
 */
function others(text: string, { kind, position }: PositionEdit): readonly string[] {
  const { value, placeOf } = readYaml(text, 'j');
  const { positions } = value as JobData;
  const lines = text.split('\n');
  if (positions === undefined) return lines;
  const from = placeOf(['positions'], 'key').line;
  const next = lines.findIndex((line, index) => index >= from && /^[a-z]/.test(line));
  const to = next < 0 ? lines.length : next;
  const starts = lines.map((_, index) => lines.slice(0, index).join('\n').length + (index > 0 ? 1 : 0));
  const names = Object.keys(positions);
  const offsets = names.map((name) => {
    const { line, column } = placeOf(['positions', name], 'key');
    return (starts[line - 1] ?? 0) + column - 1;
  });
  const edited = position.split('/');
  const pair = names.find((name) => name.split('/').length > 1 && edited.some((ref) => name.split('/').includes(ref)));
  const refs = kind === 'set' ? edited : [...edited, ...(pair?.split('/') ?? [])];
  const kept = names.flatMap((name, index) => {
    if (name.split('/').some((ref) => refs.includes(ref))) return [];
    const piece = text.slice(offsets[index], offsets[index + 1] ?? starts[to] ?? text.length);
    return [piece.replace(/([\s,{}]|# note \d+)*$/, '')];
  });
  return [...lines.slice(0, from - 1), ...kept, ...lines.slice(to)].map((each) => each.replace(/\r$/, ''));
}

/** Whether all of `pieces` stand in the text, one behind the other. */
function isWithin(pieces: readonly string[], text: string): boolean {
  let at = 0;
  return pieces.every((piece) => {
    const found = text.indexOf(piece, at);
    at = found + piece.length;
    return found >= 0;
  });
}

function checkEdit(text: string, edit: JobEdit): string {
  const before = dataOf(text);
  const wanted = expected(before, edit);
  const outcome = editJob(text, 'j', edit);
  if (!outcome.ok) {
    expect(wanted, JSON.stringify(outcome.diagnostics)).toBeNull();
    return text;
  }
  const after = dataOf(outcome.value);
  expect(saidIn(after)).toEqual(wanted);
  expect(asideOf(after)).toEqual(asideOf(before));
  if (!/(^|[^\r])\n/.test(text)) expect(outcome.value).not.toMatch(/(^|[^\r])\n/);
  if ('position' in edit) expect(isWithin(others(text, edit), outcome.value)).toBe(true);
  return outcome.value;
}

describe('an edit of a job in any layout', () => {
  it('says of every designator what it should, and leaves the lines of the others', () => {
    fc.assert(
      fc.property(job, fc.nat(), fc.array(edit, { minLength: 1, maxLength: 4 }), (data, layout, edits) => {
        const text = oddLayout(data, layout);
        expect(dataOf(text)).toEqual(data);
        edits.reduce(checkEdit, text);
      }),
      { seed, numRuns: 200 },
    );
  });

  it('keeps every comment when it sets a value, and every line but those it stands on', () => {
    fc.assert(
      fc.property(job, fc.nat(), setting, (data, layout, edit) => {
        const text = oddLayout(data, layout);
        const after = checkEdit(text, edit);
        expect(commentsIn(after)).toEqual(expect.arrayContaining([...commentsIn(text)]));
        const lines = after.split(/\r?\n/);
        const gone = text.split(/\r?\n/).filter((line) => !lines.includes(line));
        // The pair and both members may each say it, on a line of the value and one that gets a comma.
        expect(gone.length).toBeLessThanOrEqual(6);
      }),
      { seed, numRuns: 200 },
    );
  });

  it('gives back every byte when a value is set to another and back', () => {
    const fitted = fc.record({ key: position, value: fc.constantFrom('1 µF', '2.2 µF'), layout: fc.nat() });
    fc.assert(
      fc.property(job, fitted, (data, { key, value, layout }) => {
        const positions = { [key]: { fit: { build: 'film', value } } };
        const text = oddLayout({ ...data, positions }, layout);
        const set = (to: string): JobEdit => ({ kind: 'set', position: key, path: 'fit.value', value: to });
        expect(checkEdit(checkEdit(text, set('4.7 µF')), set(value))).toBe(text);
      }),
      { seed, numRuns: 100 },
    );
  });

  it('sets fields and limits and leaves the positions', () => {
    fc.assert(
      fc.property(job, fc.nat(), fc.array(aside, { minLength: 1, maxLength: 4 }), (data, layout, edits) => {
        let text = oddLayout(data, layout);
        for (const each of edits) {
          if (each.kind !== 'field' && each.kind !== 'limit') continue;
          const path = each.kind === 'field' ? each.field.split('.') : ['limits', each.limit, each.key];
          const before = dataOf(text);
          const outcome = editJob(text, 'j', each);
          expect(outcome.ok).toBe(true);
          if (!outcome.ok) return;
          text = outcome.value;
          expect(dataOf(text)).toEqual(each.value === null ? cut(before, path) : put(before, path, each.value));
        }
      }),
      { seed, numRuns: 100 },
    );
  });
});

describe('edits of the demo job', () => {
  it('say what they should and leave the lines of the others', () => {
    fc.assert(
      fc.property(fc.boolean(), fc.array(edit, { minLength: 1, maxLength: 3 }), (isCrlf, edits) => {
        edits.reduce(checkEdit, isCrlf ? seedJob.replaceAll('\n', '\r\n') : seedJob);
      }),
      // Each edit reads the whole job several times: about 30 ms.
      { seed, numRuns: 15 },
    );
  });
});

describe('a text as YAML', () => {
  it('reads back the same in a block and in brackets, plain or in the quotes of another', () => {
    const unit = fc.oneof(
      fc.constantFrom(...'-?:,[]{}#&*!|>\'"%@` ~\n\t\r\\ab'),
      fc.string({ unit: 'binary', minLength: 1, maxLength: 1 }),
    );
    fc.assert(
      fc.property(fc.string({ unit, maxLength: 8 }), fc.constantFrom(undefined, 'single', 'double'), (text, like) => {
        expect(readYaml(`k: ${scalarText(text, 'block', like)}\n`, 'f').value).toEqual({ k: text });
        expect(readYaml(`{k: ${scalarText(text, 'flow', like)}}`, 'f').value).toEqual({ k: text });
        expect(parse(`[${scalarText(text, 'flow', like)}, x]`, { schema: 'failsafe' })).toEqual([text, 'x']);
      }),
      { seed, numRuns: 2000 },
    );
  });
});
