import { describe, expect, it } from 'vitest';
import type { BenchServer, SaveReply } from '../../src/page/store/bench-server.ts';
import { keepDone } from '../../src/page/lessons/keep-record.ts';
import { readRecord, recordPath, withDone, type Done } from '../../src/page/lessons/record.ts';
import { runBench } from '../server/running-bench.ts';

const done: Done = {
  ...{ lesson: 'leg', board: 'boards/a, the old one.board.yaml', mark: '−6.5 dB', answer: '−9.9 dB' },
  ...{ measured: 3, fewest: 2, date: '2026-11-25' },
};

describe('the record of the lessons', () => {
  it('reads back what was written, commas and minus signs too', () => {
    const open: Done = { ...done, lesson: 'hiss', measured: null, fewest: null };
    const text = withDone(withDone(null, done), open) ?? '';
    expect(readRecord(text)).toEqual([done, open]);
  });

  it('replaces a row in its place; other columns and rows stay', () => {
    const text = 'lesson;Board;note\nleg;b.board.yaml;with Ann\nsomething;else\n';
    const after = withDone(text, { ...done, board: 'b.board.yaml' }) ?? '';
    expect(after.split('\r\n')[1]).toContain('with Ann');
    expect(after).toContain('something,else');
    expect(readRecord(after).filter(({ lesson }) => lesson === 'leg')).toEqual([{ ...done, board: 'b.board.yaml' }]);
  });

  it('writes nothing over what is no table', () => {
    expect(withDone('lesson,board\n"leg,', done)).toBeNull();
  });

  it('goes into the folder beside what another page saved meanwhile', async () => {
    const running = await runBench({});
    const server: Pick<BenchServer, 'save'> = {
      async save({ path, text, base }): Promise<SaveReply> {
        const told = await running.save(path, text, base);
        return told.status === 409
          ? { outcome: 'conflict', theirs: told.json as never }
          : { outcome: 'saved', saved: told.json as never };
      },
    };
    const other = { ...done, lesson: 'zero' };
    const first = await keepDone(server as BenchServer, null, done);
    const second = await keepDone(server as BenchServer, null, other);
    expect([first.trouble, second.trouble]).toEqual([null, null]);
    const { text } = (await running.ask(`/api/file?path=${recordPath}`)).json as { text: string };
    expect(readRecord(text)).toEqual([done, other]);
    await running.close();
  });
});
