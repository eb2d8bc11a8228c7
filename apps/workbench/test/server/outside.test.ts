import { mkdir, rename, rm, symlink, utimes, writeFile } from 'node:fs/promises';
import { request, type IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { setTimeout as pass } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OutsideChange } from '../../src/contract/files.ts';
import { versionOf } from '../../src/server/file-text.ts';
import { runBench, type RunningBench } from './running-bench.ts';

const JOB = 'jobs/one.job.yaml';
const FIRST = 'job: 1\n';

/** ms within which a page is to know; shorter than the pause between two looks, so that it is the system that tells of it. */
const SOON = 1000;

/** ms in which the bench has looked again by itself, too. */
const SURELY = 2000;

let bench: RunningBench;
beforeEach(async () => {
  bench = await runBench({ [JOB]: FIRST });
});
afterEach(() => bench.close());

const versionIs = (text: string): string => versionOf(Buffer.from(text));

interface Listening {
  readonly heard: OutsideChange[];
  /** Resolves with what was heard once it is that much, or throws when it is not in time. */
  readonly count: (changes: number, within?: number) => Promise<readonly OutsideChange[]>;
}

async function listen(page: string): Promise<Listening> {
  const heard: OutsideChange[] = [];
  const answer = await new Promise<IncomingMessage>((resolve, reject) => {
    const path = `/api/events?token=${bench.token}&page=${page}`;
    request({ host: '127.0.0.1', port: bench.port, path, agent: false }, resolve).on('error', reject).end();
  });
  expect(answer.headers['content-type']).toBe('text/event-stream');
  answer.setEncoding('utf8');
  // The bench ends the stream when the test does.
  answer.on('error', () => undefined);
  let waiting = '';
  await new Promise<void>((open) => {
    answer.on('data', (part: string) => {
      const messages = (waiting + part).split('\n\n');
      waiting = messages.pop() ?? '';
      for (const message of messages) {
        if (message.startsWith('data: ')) heard.push(JSON.parse(message.slice('data: '.length)) as OutsideChange);
        else open();
      }
    });
  });
  const count = async (changes: number, within = SOON): Promise<readonly OutsideChange[]> => {
    const last = Date.now() + within;
    while (heard.length < changes) {
      if (Date.now() > last) throw new Error(`heard ${JSON.stringify(heard)} only`);
      await pass(10);
    }
    return heard;
  };
  return { heard, count };
}

describe('what another program does', () => {
  it('is told: written in place, put in its place, new in a new folder, removed', async () => {
    const { heard, count } = await listen('a');
    await bench.put(JOB, 'job: 1 # in place\n');
    expect(await count(1)).toEqual([{ path: JOB, version: versionIs('job: 1 # in place\n') }]);

    await writeFile(join(bench.folder, 'beside'), 'job: 1 # put in its place\n');
    await rename(join(bench.folder, 'beside'), join(bench.folder, JOB));
    expect((await count(2))[1]).toEqual({ path: JOB, version: versionIs('job: 1 # put in its place\n') });

    await mkdir(join(bench.folder, 'boards'));
    await bench.put('boards/new.board.yaml', 'board: 1\n');
    expect((await count(3))[2]).toEqual({ path: 'boards/new.board.yaml', version: versionIs('board: 1\n') });

    await bench.put('boards/new.board.yaml', 'board: 1 # again\n');
    expect((await count(4))[3]).toEqual({ path: 'boards/new.board.yaml', version: versionIs('board: 1 # again\n') });

    await rm(join(bench.folder, JOB));
    expect((await count(5))[4]).toEqual({ path: JOB, version: null });
    expect(heard).toHaveLength(5);
  });

  it('is told where its size and the time it tells stay the same', async () => {
    const { count } = await listen('a');
    const putUndated = async (text: string): Promise<void> => {
      await bench.put(JOB, text);
      await utimes(join(bench.folder, JOB), 0, 0);
    };
    await putUndated('job: 2\n');
    await count(1);
    // Until it was seen to stand still, it is read at every look anyway.
    await pass(2 * SURELY);
    await putUndated('job: 3\n');
    expect((await count(2))[1]).toEqual({ path: JOB, version: versionIs('job: 3\n') });
  });

  it('is told where the system does not tell the bench of it', async () => {
    await bench.put('node_modules/far.yaml', FIRST);
    await symlink('node_modules/far.yaml', join(bench.folder, 'near.yaml'));
    const { count } = await listen('a');
    await count(1);
    await bench.put('node_modules/far.yaml', 'job: 2\n');
    expect((await count(2, SURELY))[1]).toEqual({ path: 'near.yaml', version: versionIs('job: 2\n') });
  });

  it('is not told where nothing but the time changed', async () => {
    const { heard } = await listen('a');
    await bench.put(JOB, FIRST);
    await bench.put('notes.txt', 'not of the bench');
    await bench.put('.hidden/one.yaml', 'hidden');
    await pass(SURELY);
    expect(heard).toEqual([]);
  });
});

describe('a save', () => {
  it('is told to the other page, at once, and not to the one that made it', async () => {
    const [mine, other] = [await listen('mine'), await listen('other')];
    for (let i = 0; i < 20; i++) {
      const base = versionIs(i === 0 ? FIRST : `job: 1 # ${i - 1}\n`);
      expect((await bench.save(JOB, `job: 1 # ${i}\n`, base, 'mine')).status).toBe(200);
    }
    const told = await other.count(20);
    expect(told.map(({ version }) => version)).toEqual(
      Array.from({ length: 20 }, (_, i) => versionIs(`job: 1 # ${i}\n`)),
    );
    // Longer than the bench waits between two looks: none of them takes a save for an outside change.
    await pass(SURELY);
    expect(other.heard).toHaveLength(20);
    expect(mine.heard).toEqual([]);
  });

  it('leaves an outside change to be told that came just before', async () => {
    const { count } = await listen('mine');
    await bench.put('jobs/two.job.yaml', 'job: 2\n');
    await bench.save(JOB, 'job: 1 # a\n', versionIs(FIRST), 'mine');
    expect(await count(1)).toEqual([{ path: 'jobs/two.job.yaml', version: versionIs('job: 2\n') }]);
  });
});
