import { describe, expect, it } from 'vitest';
import { createCompute } from '../../src/compute/compute.ts';
import { demo, jobText } from './demo.ts';

const compute = createCompute();
const boardOf = (path: string, board: string): Promise<string | null> =>
  compute.boardOf({ path, text: `job: 1\ntitle: t\nboard: ${board}\n` });

describe('boardOf', () => {
  it.each([
    ['jobs/a.job.yaml', '../boards/b.board.yaml', 'boards/b.board.yaml'],
    ['a.job.yaml', 'b.board.yaml', 'b.board.yaml'],
    ['jobs/2026/a.job.yaml', './../b.board.yaml', 'jobs/b.board.yaml'],
    ['jobs/a.job.yaml', '..\\boards\\b.board.yaml', 'boards/b.board.yaml'],
  ])('follows %s to %s', async (path, board, expected) => {
    expect(await boardOf(path, board)).toBe(expected);
  });

  it.each([
    ['jobs/a.job.yaml', '../../b.board.yaml'],
    ['a.job.yaml', '/etc/b.board.yaml'],
    ['a.job.yaml', 'C:\\b.board.yaml'],
    ['a.job.yaml', '..'],
    ['a.job.yaml', '[]'],
  ])('finds none inside the folder from %s by %s', async (path, board) => {
    expect(await boardOf(path, board)).toBeNull();
  });

  it('finds none in a text that names none', async () => {
    expect(await compute.boardOf({ path: 'a', text: '' })).toBeNull();
    expect(await compute.boardOf({ path: 'a', text: '- [' })).toBeNull();
  });
});

describe('jobFor', () => {
  it.each([
    ['jobs/a.job.yaml', 'boards/lk417.board.yaml'],
    ['a.job.yaml', 'lk417.board.yaml'],
    ['work/jobs/a.job.yaml', 'work/b.board.yaml'],
    ['a/b/c.job.yaml', 'a/x/y/z.board.yaml'],
  ])('at %s names the board %s so that it is found, and can be opened', async (path, board) => {
    const text = await compute.jobFor({ path, board, title: 'hum: both channels', date: '2026-03-01' });
    expect(await compute.boardOf({ path, text })).toBe(board);
    const opened = await compute.open({ revision: 1, job: { path, text }, board: demo(1).board });
    expect(opened).toMatchObject({ ok: true, view: { title: 'hum: both channels', rows: [] } });
  });
});

describe('edit', () => {
  it('changes the value alone', async () => {
    const edit = { kind: 'set', position: 'C113', path: 'fit.value', value: '1.5 µF' } as const;
    const edited = await compute.edit({ revision: 9, job: { path: 'job', text: jobText }, edit });
    const at = jobText.indexOf('value: 1 µF', jobText.indexOf('C113:'));
    const text = `${jobText.slice(0, at)}value: 1.5 µF${jobText.slice(at + 'value: 1 µF'.length)}`;
    expect(edited).toEqual({ revision: 9, ok: true, text });
  });

  it('is refused with what is wrong', async () => {
    const edit = { kind: 'set', position: 'C113', path: 'fit.value', value: '1,5 µF' } as const;
    const edited = await compute.edit({ revision: 9, job: { path: 'job', text: jobText }, edit });
    expect(edited).toMatchObject({ revision: 9, ok: false });
  });
});
