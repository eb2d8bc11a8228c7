import { createHash } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { FileText } from '../../src/contract/files.ts';
import type { BenchServer, SaveReply } from '../../src/page/store/bench-server.ts';
import { openFiles, type OpenFiles, type Saving } from '../../src/page/store/open-files.ts';

const path = 'jobs/a.job.yaml';

/** A disk behind the contract: it takes a save only upon the version that it holds. */
function disk(first: string): {
  server: BenchServer;
  held: () => string | undefined;
  write: (text: string) => string;
  remove: () => void;
  refuse: (message: string | null) => void;
} {
  const texts = new Map([[path, first]]);
  let refusal: string | null = null;
  const fileAt = (at: string): FileText | null => {
    const text = texts.get(at);
    return text === undefined ? null : { path: at, text, version: createHash('sha256').update(text).digest('hex') };
  };
  const save = (at: string, text: string, base: string | null): SaveReply => {
    if (refusal !== null) return { outcome: 'refused', message: refusal };
    const now = fileAt(at);
    if ((now?.version ?? null) !== base) return { outcome: 'conflict', theirs: now };
    texts.set(at, text);
    return { outcome: 'saved', saved: { version: fileAt(at)?.version ?? '' } };
  };
  return {
    server: {
      list: () => Promise.resolve({ ok: true, value: { folder: '/bench', files: [], complete: true } }),
      read: (at) => {
        const file = fileAt(at);
        return Promise.resolve(file ? { ok: true, value: file } : { ok: false, message: 'not there' });
      },
      save: ({ path: at, text, base }) => Promise.resolve(save(at, text, base)),
      watch: () => () => undefined,
    },
    held: () => texts.get(path),
    write: (text) => {
      texts.set(path, text);
      return fileAt(path)?.version ?? '';
    },
    remove: () => {
      texts.delete(path);
    },
    refuse: (message) => {
      refusal = message;
    },
  };
}

describe('files that the page holds', () => {
  const bench = disk('one');
  let files: OpenFiles;
  const saving = (): Saving | undefined => files.files.value.get(path)?.saving;

  beforeEach(async () => {
    vi.useFakeTimers();
    bench.refuse(null);
    bench.write('one');
    files = openFiles(bench.server);
    await files.load(path);
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('are saved once the hand has rested, with what was written last', async () => {
    files.put(path, 'two');
    await vi.advanceTimersByTimeAsync(390);
    files.put(path, 'three');
    await vi.advanceTimersByTimeAsync(390);
    expect(bench.held()).toBe('one');
    expect(saving()).toEqual({ state: 'waiting' });
    await vi.advanceTimersByTimeAsync(20);
    expect(bench.held()).toBe('three');
    expect(saving()).toEqual({ state: 'saved' });
  });

  it('take what something else wrote where nothing was changed here', async () => {
    const version = bench.write('theirs');
    expect(await files.outside({ path, version })).toEqual({ kind: 'taken', before: 'one', after: 'theirs' });
    files.put(path, 'theirs and mine');
    await vi.advanceTimersByTimeAsync(500);
    expect(bench.held()).toBe('theirs and mine');
  });

  it('stand against what something else wrote, and nothing is overwritten until the person chooses', async () => {
    files.put(path, 'mine');
    bench.write('theirs');
    await vi.advanceTimersByTimeAsync(500);
    expect(saving()).toMatchObject({ state: 'conflict', theirs: { text: 'theirs' } });
    files.put(path, 'mine too');
    await vi.advanceTimersByTimeAsync(5000);
    expect(bench.held()).toBe('theirs');
    files.resolve(path, 'mine');
    await vi.advanceTimersByTimeAsync(500);
    expect(bench.held()).toBe('mine too');
    expect(saving()).toEqual({ state: 'saved' });
  });

  it('give way to the disk where that is chosen', async () => {
    files.put(path, 'mine');
    expect(await files.outside({ path, version: bench.write('theirs') })).toEqual({ kind: 'conflict' });
    files.resolve(path, 'theirs');
    await vi.advanceTimersByTimeAsync(500);
    expect([files.textOf(path), bench.held()]).toEqual(['theirs', 'theirs']);
  });

  it('do not stand against a text that says the same', async () => {
    files.put(path, 'both');
    bench.write('both');
    await vi.advanceTimersByTimeAsync(500);
    expect(saving()).toEqual({ state: 'saved' });
  });

  it('that were removed outside can be kept', async () => {
    bench.remove();
    expect(await files.outside({ path, version: null })).toEqual({ kind: 'removed' });
    expect(saving()).toEqual({ state: 'conflict', theirs: null });
    files.resolve(path, 'mine');
    await vi.advanceTimersByTimeAsync(500);
    expect(bench.held()).toBe('one');
  });

  it('keep what could not be saved, with the reason, until it can', async () => {
    bench.refuse('the disk is full');
    files.put(path, 'two');
    await vi.advanceTimersByTimeAsync(500);
    expect(saving()).toEqual({ state: 'refused', message: 'the disk is full' });
    bench.refuse(null);
    files.saveNow(path);
    await vi.advanceTimersByTimeAsync(0);
    expect([bench.held(), saving()]).toEqual(['two', { state: 'saved' }]);
  });

  it('take no save of their own for one of somebody else', async () => {
    files.put(path, 'two');
    await vi.advanceTimersByTimeAsync(400);
    expect(await files.outside({ path, version: bench.write('two') })).toEqual({ kind: 'none' });
  });
});
