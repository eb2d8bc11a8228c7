import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { repositoryPath, run, runJson } from './recording-desk.ts';

const board = repositoryPath('seeds/boards/lk417.board.yaml');
const job = repositoryPath('seeds/jobs/lk417.job.yaml');
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'curvewright-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

describe('drawing', () => {
  it('prints one channel as SVG, of a job the parts that are fitted', () => {
    const { status, out } = run('drawing', job, '--channel', 'right');
    expect(status).toBe(0);
    expect(out).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
    expect(out).toContain('<title>LK 417, pops in the right channel, right, rebuilt</title>');
    expect(out).toContain('data-ref="Q102"');
    expect(out).not.toContain('data-ref="Q101"');
  });

  it('writes the SVG to a file', () => {
    const file = join(folder, 'left.svg');
    expect(run('drawing', board, '--out', file)).toMatchObject({
      status: 0,
      out: expect.stringContaining(file) as string,
    });
    expect(readFileSync(file, 'utf8')).toBe(run('drawing', board).out);
  });

  it('says what is wrong with the file it cannot write', () => {
    const { status, complaint } = run('drawing', board, '--out', join(folder, 'nowhere', 'left.svg'));
    expect([status, complaint]).toEqual([2, expect.stringContaining('is not there')]);
    expect(existsSync(join(folder, 'nowhere'))).toBe(false);
  });

  it('writes volts, currents and shares where they are asked for', () => {
    expect(run('drawing', board).out).not.toMatch(/3\.01 V| mA|%/);
    const { out } = run('drawing', board, '--volts', '--currents', '--shade', 'c1');
    expect(out).toContain('>c1 3.01 V<');
    expect(out).toMatch(/>IC 73\.\d µA</);
    expect(out).toContain('share in the voltage of c1');
  });

  it('draws the circuit of the bias, and that of the signal at a frequency', () => {
    expect(run('drawing', board, '--only', 'dc').out).not.toContain('data-ref="C101"');
    // 1/(2π · 50 Hz · 22 µF) = 144.7 Ω
    expect(run('drawing', board, '--only', 'ac', '--at', '50 Hz').out).toContain('<title>C103, 145 Ω</title>');
  });

  it('gives places that a board file takes as they are', () => {
    const { positions, crossings, text } = runJson('drawing', board) as {
      positions: Record<string, number[]>;
      crossings: number;
      text: string[];
    };
    expect(crossings).toBe(1);
    expect(text[0]).toMatch(/^Signal path: in – C101/);
    const moved = { ...positions, C115: [60, 30] };
    const file = join(folder, 'moved.board.yaml');
    writeFileSync(file, `${readFileSync(board, 'utf8')}\ndrawing: ${JSON.stringify(moved)}\n`);
    expect(runJson('drawing', file).positions).toEqual(moved);
    expect(run('check', file).status).toBe(0);
  });

  it.each([
    [['--channel', 'middle'], 'write one of left, right'],
    [['--shade', 'c9'], 'bass, treble, gain, hiss, bias'],
    [['--at', '50 Hz'], '--only ac'],
    [['--state', 'found'], 'no state found'],
  ])('refuses %s', (words, told) => {
    expect(run('drawing', board, ...words)).toMatchObject({
      status: 2,
      complaint: expect.stringContaining(told) as string,
    });
  });
});
