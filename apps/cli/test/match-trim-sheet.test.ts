import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { repositoryPath, run, runLong, type Ran } from './recording-desk.ts';

const job = repositoryPath('seeds/jobs/lk417.job.yaml');
const board = repositoryPath('seeds/boards/lk417.board.yaml');
const drawer = repositoryPath('seeds/drawer.csv');
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const json = ({ out }: Ran): Record<string, unknown> => JSON.parse(out) as Record<string, unknown>;

describe('match', () => {
  const pieces = 'piece,value,esr\na,21 µF,1 Ω\nb,23 µF,1.2 Ω\nc,21.1 µF,1 Ω\nd,25,1 Ω\n';

  it('ranks the pairs, tells whether sorting is worth it and which row is at fault', async () => {
    const bag = file('bag.csv', pieces);
    const { status, out, complaint } = await runLong('match', bag, 'C103', '--for', job);
    expect(status).toBe(0);
    expect(out).toContain('pieces for C103, C104');
    expect(out).toMatch(/\n1 +[ac] +[ac] /);
    expect(out).toContain('All 6 ways to place 3 pieces were solved');
    expect(complaint).toContain('bag.csv:5:3: row 5, value:');
  });

  it('answers in one JSON object, of a board as of a job, and of two positions with four pieces', async () => {
    const bag = file('four.csv', pieces.replace('25,', '25 µF,'));
    const answer = json(await runLong('match', bag, 'C103/C104', 'C107', '--for', board, '--json'));
    expect(answer.state).toBe('drawn');
    expect(answer.refs).toEqual(['C103', 'C104', 'C107', 'C108']);
    const [best] = answer.sets as { pieces: { ref: string; piece: string }[]; differenceDb: number }[];
    expect(new Set(best!.pieces.map(({ piece }) => piece)).size).toBe(4);
    expect(answer.search).toMatchObject({ pieces: 4, ways: 24, solved: 24, complete: true });
  });

  it('refuses what it cannot match, with status 2', async () => {
    const bag = file('refused.csv', pieces);
    const complaintOf = async (...words: string[]): Promise<string> => {
      const { status, complaint } = await runLong('match', bag, ...words, '--for', job);
      expect(status).toBe(2);
      return complaint;
    };
    expect(await complaintOf('C115')).toContain('once for all channels');
    expect(await complaintOf('Q101')).toContain('refused.csv:1:1: no column of the first row says anything of an npn');
    expect(await complaintOf('C103', 'R111')).toContain('two kinds');
    expect(await complaintOf('C103', 'C104')).toContain('named twice');
    expect(await complaintOf('C103', 'C107', 'C113')).toContain('two that share a bag');
    expect((await runLong('match', join(folder, 'none.csv'), 'C103', '--for', job)).complaint).toContain(
      'is not there',
    );
  });
});

describe('trim', () => {
  it('offers values and pairs with their time constants, and says which keep the tolerance', async () => {
    const { status, out } = await runLong('trim', job, 'R121', '--from', '100 Hz', '--within', '0.2 dB');
    expect(status).toBe(0);
    expect(out).toContain('left and right');
    expect(out).toMatch(/✓ R121 22 kΩ/);
    expect(out).toContain('T1 µs');
  });

  it('takes from a drawer, and answers in one JSON object', async () => {
    const answer = json(await runLong('trim', job, 'R121', '--drawer', drawer, '--json')) as {
      series: null;
      channels: { options: { choices: { parts: { stock: string | null }[] }[] }[] }[];
    };
    expect(answer.series).toBeNull();
    const stocks = answer.channels[0]!.options.flatMap(({ choices }) => choices.flatMap(({ parts }) => parts));
    expect(stocks.length).toBeGreaterThan(0);
    for (const { stock } of stocks) expect(stock).not.toBeNull();
  });

  it('refuses what it cannot trim, with status 2', async () => {
    const complaintOf = async (...words: string[]): Promise<string> => {
      const { status, complaint } = await runLong('trim', job, ...words);
      expect(status).toBe(2);
      return complaint;
    };
    expect(await complaintOf('Q101')).toContain('does not hold one resistor or capacitor');
    expect(await complaintOf('R119', 'R120')).toContain('named twice');
    expect(await complaintOf('R119', 'R121', 'C109', 'C111', 'R111')).toContain('more than 4');
    expect(await complaintOf('R121', '--from', '20 kHz')).toContain('--from has to lie below --to');
    expect(await complaintOf('R121', '--within', '0.1')).toContain('no unit');
  });
});

describe('sheet', () => {
  it('prints the work and writes both tables', () => {
    const [csv, purchase] = [join(folder, 'sheet.csv'), join(folder, 'purchase.csv')];
    const { status, out } = run('sheet', job, '--csv', csv, '--purchase', purchase);
    expect(status).toBe(0);
    expect(out).toContain('rework sheet');
    expect(out).toContain('C103  fit 22 µF aluminium, 25 V');
    expect(out).toContain('Not replaced, and why');
    expect(readFileSync(csv, 'utf8').split('\r\n')[0]).toContain('initials');
    // The seeds' own drawer lies in a folder above the job.
    expect(readFileSync(purchase, 'utf8')).toContain('CE-22-25,');
  });

  it('answers in one JSON object', () => {
    const answer = json(run('sheet', job, '--json'));
    expect(Object.keys(answer)).toEqual(
      expect.arrayContaining(['title', 'rows', 'left', 'reminders', 'photos', 'cautions', 'purchase']),
    );
  });

  it('works without a drawer, asks for one that is named, and for a job', () => {
    const lone = file('lone.job.yaml', readFileSync(job, 'utf8').replace('../boards/lk417.board.yaml', board));
    const answer = json(run('sheet', lone, '--json')) as { purchase: { stock: string | null }[] };
    expect(answer.purchase.every(({ stock }) => stock === null)).toBe(true);
    expect(run('sheet', lone, '--drawer', join(folder, 'none.csv'))).toMatchObject({ status: 2 });
    expect(run('sheet', board).complaint).toContain('name a job file');
    expect(run('sheet', job, '--csv', join(folder, 'no', 'sheet.csv')).complaint).toContain('is not there');
  });
});
