import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCommandLine } from '../src/command-line.ts';
import { largeDrawer } from './large-drawer.ts';
import { repositoryPath, runLong } from './recording-desk.ts';

const job = repositoryPath('seeds/jobs/lk417.job.yaml');

interface Candidate {
  readonly stock: string;
  readonly verdict: string;
  readonly reasons: readonly string[];
  readonly changes: unknown;
}

interface Choice {
  readonly drawer: { readonly file: string; readonly rows: number; readonly leftOut: number };
  readonly stopped: boolean;
  readonly positions: readonly { readonly ref: string; readonly candidates: readonly Candidate[] }[];
  readonly plan: readonly { readonly ref: string; readonly stock: string; readonly takes: number }[];
}

async function choose(...words: string[]): Promise<Choice> {
  const { status, out } = await runLong('choose', ...words, '--json');
  expect(status).toBe(0);
  return JSON.parse(out) as Choice;
}

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'choose-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

describe('choose', { timeout: 60_000 }, () => {
  it('answers for every position of the job with the fixed keys, each with its reason', async () => {
    const { positions, plan, drawer, stopped } = await choose(job);
    expect([drawer, stopped, plan]).toEqual([
      { file: repositoryPath('seeds/drawer.csv'), rows: 32, leftOut: 0 },
      false,
      [],
    ]);
    expect(positions.map(({ ref }) => ref)).toEqual(['C101', 'Q101', 'C103', 'C107', 'D103', 'C113', 'C115']);
    for (const { stock, verdict, reasons, changes } of positions.flatMap(({ candidates }) => candidates)) {
      expect(stock).not.toBe('');
      expect(reasons.length === 0).toBe(verdict === 'good');
      expect(changes).toBeDefined();
    }
  });

  it('answers for one position, by either designator', async () => {
    const [left, right] = [await choose(job, 'C103'), await choose(job, 'C104')];
    expect(left.positions).toHaveLength(1);
    expect(right.positions).toEqual(left.positions);
  });

  it('with --all gives the smallest set of changes, too', async () => {
    const { plan, positions } = await choose(job, '--all');
    expect(positions).toHaveLength(7);
    expect(plan).toMatchObject([{ ref: 'C107', stock: 'CE-100-16', takes: 2 }]);
  });

  it('prints a page: candidates with what speaks against them, and the plan with how sure it is', async () => {
    const { status, out } = await runLong('choose', job, '--all');
    expect(status).toBe(0);
    expect(out).toMatch(/C103\/C104, 22 µF aluminium.* in the job: 7 good, 1 look, 18 fail of 26/);
    expect(out).toMatch(/● CE-33-25 +33 µF aluminium, ESR 0.9 Ω, 25 V +25 +2 +0.14/);
    expect(out).toMatch(/✕ CF-2200[^\n]*\n {4}hum −38/);
    expect(out).toMatch(/as the job has it is look; with one change it is good/);
    expect(out).toMatch(/C107\/C108 +CE-100-16 +2 ×/);
    expect(out.replace(/\s+/g, ' ')).toMatch(/No smaller set passes, and of those as small this is the best/);
  });

  it('prints what to order where the drawer has nothing', async () => {
    const empty = join(folder, 'empty.csv');
    writeFileSync(empty, 'stock,kind,value\n');
    const { out } = await runLong('choose', job, 'C103', '--drawer', empty);
    expect(out).toMatch(/nothing of its kind in the drawer\nTo order: 33 µF aluminium, 6.3 V or more/);
  });
});

describe('the drawer of choose', { timeout: 60_000 }, () => {
  it('is the nearest drawer.csv up from the job, with its types beside it', async () => {
    const home = join(folder, 'shop');
    mkdirSync(join(home, 'jobs', 'deep'), { recursive: true });
    cpSync(repositoryPath('seeds/boards'), join(home, 'boards'), { recursive: true });
    const text = readFileSync(job, 'utf8').replace('../boards', '../../boards');
    const deep = join(home, 'jobs', 'deep', 'a.job.yaml');
    writeFileSync(deep, text);
    writeFileSync(join(home, 'drawer.csv'), 'stock,kind,type\nT-1,npn,HN-Z\n');
    const without = await choose(deep, 'Q101');
    expect(without.drawer.file).toBe(join(home, 'drawer.csv'));
    expect(without.positions[0]!.candidates[0]).toMatchObject({ stock: 'T-1', verdict: 'not measured' });

    const types = `types:\n  HN-Z: ${/HN-D:\s*(\{[\s\S]*?\n[^\n]*case_leads: BCE \})/.exec(text)![1]!}\n`;
    writeFileSync(join(home, 'drawer.types.yaml'), types);
    const withTypes = await choose(deep, 'Q101');
    expect(withTypes.positions[0]!.candidates[0]).toMatchObject({ stock: 'T-1', verdict: 'look' });

    writeFileSync(join(home, 'drawer.types.yaml'), 'types: 3\n');
    const faulty = await runLong('choose', deep, 'Q101', '--json');
    expect([faulty.status, faulty.complaint]).toEqual([0, expect.stringMatching(/drawer\.types\.yaml:1:8: /)]);
  });

  it('with faulty rows is told where they are, and the others serve', async () => {
    const file = join(folder, 'faulty.csv');
    writeFileSync(
      file,
      '\uFEFFstock;kind;build;value;rated;shelf\r\n' +
        'A;capacitor;aluminium;33 µF;25 V;7\r\nB;capacitor;aluminium;33;25 V;7\r\nA;capacitor;film;1 µF;63 V;\r\n',
    );
    const { status, out, complaint } = await runLong('choose', job, 'C103', '--drawer', file, '--json');
    expect(status).toBe(0);
    expect(complaint.trim().split('\n')).toEqual([
      expect.stringMatching(/faulty\.csv:3:23: row 3, value: /),
      expect.stringMatching(/faulty\.csv:4:1: row 4, stock: /),
    ]);
    const { drawer, positions } = JSON.parse(out) as Choice;
    expect([drawer.rows, drawer.leftOut]).toEqual([1, 2]);
    expect(positions[0]!.candidates.map(({ stock }) => stock)).toEqual(['A']);
  });

  it.each([
    ['a board file', [repositoryPath('seeds/boards/lk417.board.yaml')], /name a job file/],
    ['an unknown position', [job, 'C999'], /has no position C999/],
    ['a position with --all', [job, 'C103', '--all'], /leave out either/],
    ['a drawer that is not there', [job, '--drawer', '/nowhere/drawer.csv'], /is not there/],
    ['a table that is no drawer', [job, '--drawer', repositoryPath('fixtures/riaa-table.json')], /no column stock/],
  ])('is refused: %s', async (_, words, expected) => {
    const { status, complaint, out } = await runLong('choose', ...words);
    expect([status, out]).toEqual([2, '']);
    expect(complaint).toMatch(expected);
    expect(complaint).toMatch(/^\S+:\d+:\d+: /);
  });
});

describe('a drawer of 5,000 rows', { timeout: 120_000 }, () => {
  it('is chosen from for the whole demo job, with progress', async () => {
    const file = join(folder, 'large.csv');
    writeFileSync(file, largeDrawer(5000));
    const told: string[] = [];
    let out = '';
    const desk = {
      ...{ width: 100, colour: false, attended: false, ask: () => Promise.resolve('') },
      out: (text: string) => void (out += text),
      complain: (text: string) => void (out += text),
      progress: (text: string) => void told.push(text),
    };
    const [start, before] = [performance.now(), process.cpuUsage()];
    expect(await runCommandLine(['choose', job, '--drawer', file, '--json'], desk)).toBe(0);
    const seconds = (performance.now() - start) / 1000;
    const { user, system } = process.cpuUsage(before);
    const busy = (user + system) / 1e6;
    console.log(`5,000 rows for the demo job: ${seconds.toFixed(1)} s, ${busy.toFixed(1)} s of the processor`);
    const { drawer, positions } = JSON.parse(out) as Choice;
    expect([drawer.rows, drawer.leftOut]).toEqual([5000, 0]);
    expect(positions.flatMap(({ candidates }) => candidates).length).toBeGreaterThan(15_000);
    expect(new Set(told).size).toBeGreaterThan(50);
    expect(told[0]).toMatch(/^C101\/C102, 1 of 7 positions: \d+ % of \d+ candidates$/);
    // Another test's thread counts as well, and a busy machine slows both: four times the 5 s that an idle one keeps.
    expect(busy).toBeLessThan(20);
  });

  it('gives on Ctrl-C what is done so far', async () => {
    const file = join(folder, 'huge.csv');
    // The faulty row is told when all is read and the choosing begins.
    writeFileSync(file, `${largeDrawer(30_000)}X,nothing\n`);
    const words = ['--import', 'tsx', repositoryPath('apps/cli/src/main.ts')];
    const running = spawn(process.execPath, [...words, 'choose', job, '--drawer', file, '--json'], {
      cwd: repositoryPath(''),
    });
    let out = '';
    running.stdout.on('data', (data: Buffer) => (out += data.toString()));
    running.stderr.once('data', () => setTimeout(() => running.kill('SIGINT'), 500));
    const status = await new Promise((resolve) => running.on('close', resolve));
    expect(status).toBe(0);
    const { stopped, positions } = JSON.parse(out) as Choice;
    expect(stopped).toBe(true);
    expect(positions.length).toBeLessThan(7);
  });
});
