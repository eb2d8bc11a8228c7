import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

const job = repositoryPath('seeds/jobs/lk417.job.yaml');
const board = repositoryPath('seeds/boards/lk417.board.yaml');

describe('insertions', () => {
  it('answers with the fixed keys: five wrong ways of each transistor', () => {
    const { positions } = runJson('insertions', board) as {
      positions: {
        ref: string;
        inserted: string;
        nodes: { node: string; volts: number }[];
        gainDb: number;
        points: { hz: number; deviationDb: number }[];
      }[];
    };
    expect(positions).toHaveLength(6 * 5);
    const own = positions.filter(({ ref }) => ref === 'Q105').map(({ inserted }) => inserted);
    expect(new Set(own)).toEqual(new Set(['EBC', 'CEB', 'CBE', 'BEC', 'BCE']));
    const [first] = positions;
    expect(Object.keys(first!)).toEqual(expect.arrayContaining(['ref', 'inserted', 'nodes', 'gainDb', 'points']));
    expect(Object.keys(first!.nodes[0]!)).toEqual(['node', 'volts']);
    expect(Object.keys(first!.points[0]!)).toEqual(['hz', 'deviationDb']);
  });

  it('prints them, of any state', () => {
    expect(run('insertions', job, '--state', 'found').out).toContain('as found: wrong insertions');
    expect(run('insertions', board).out).toContain('ECB as it stands');
  });
});

describe('fit', () => {
  it('answers part by part', () => {
    const answer = runJson('fit', job) as {
      verdict: string;
      rows: { what: string; ref: string; margin: number }[];
      leads: { ref: string; row: { where: string } }[];
      strings: { ref: string; strings: { type: string; count: number }[] }[];
    };
    expect(answer.verdict).toBe('good');
    expect(answer.rows.some(({ what, ref }) => what === 'seat' && ref === 'C113')).toBe(true);
    expect(answer.leads.map(({ ref, row }) => [ref, row.where])).toEqual([
      ['Q101', 'turned by 180°, flat to the back'],
      ['Q102', 'turned by 180°, flat to the back'],
    ]);
    const [strings] = answer.strings;
    expect(strings).toMatchObject({ ref: 'D103' });
    // Common practice, no source: two small-signal diodes for a bias diode of twice the drop.
    expect(strings!.strings.find(({ type }) => type === 'DS-A')?.count).toBe(2);
  });

  it('prints the drawing of the leads and of the string', () => {
    const { out, status } = run('fit', job);
    expect(status).toBe(0);
    expect(out).toContain('┌───────────┐ flat');
    expect(out).toContain('vq ──┤    ▐├══════┤    ▐├── gnd');
  });

  it('takes a board alone, and the drawn state of a job', () => {
    expect(run('fit', board).out).toContain('as drawn: will it fit');
    expect((runJson('fit', job, '--state', 'drawn') as { strings: unknown[] }).strings).toEqual([]);
  });
});

describe('what a folder takes', () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'curvewright-fit-'));
  });
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });

  it('is a drawing for each transistor and string', () => {
    expect(run('fit', job, '--drawings', join(folder, 'drawings')).status).toBe(0);
    const files = readdirSync(join(folder, 'drawings')).toSorted();
    expect(files).toEqual(['leads-Q101.svg', 'leads-Q102.svg', 'string-D103.svg']);
    for (const file of files)
      expect(readFileSync(join(folder, 'drawings', file), 'utf8')).toMatch(/^<svg[^]*<\/svg>\n$/);
  });

  it('is nothing where it is no folder', () => {
    const file = join(folder, 'taken');
    writeFileSync(file, '');
    expect(run('fit', job, '--drawings', file)).toMatchObject({ status: 2, out: '' });
  });

  it('may be a job whose fitted part states no rating: check ends with 3', () => {
    const path = join(folder, 'x.job.yaml');
    const fitted = 'C105/C106: { fit: { build: ceramic1, tolerance: 10 % } }';
    writeFileSync(path, `job: 1\ntitle: invented\nboard: ${board}\npositions:\n  ${fitted}\n`);
    const { status, out } = run('check', path);
    expect(status).toBe(3);
    expect(out).toContain('read its rating and write rated: 16 V');
  });
});
