// @vitest-environment jsdom
import { setTimeout } from 'node:timers/promises';
import { render, type JSX } from 'preact';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { createCompute } from '../../src/compute/compute.ts';
import { SessionContext } from '../../src/page/parts/session-context.ts';
import { PositionTable } from '../../src/page/sheet/position-table.tsx';
import type { BenchServer } from '../../src/page/store/bench-server.ts';
import { follow } from '../../src/page/store/follow.ts';
import { createSession, type Session } from '../../src/page/store/session.ts';
import { demo, jobText } from '../compute/demo.ts';
import { runBench, type RunningBench } from '../server/running-bench.ts';

/** The page's side of the real server, by Node's own sockets instead of the browser's. */
function over(running: RunningBench): BenchServer {
  return {
    async list() {
      return { ok: true, value: (await running.ask('/api/files')).json as never };
    },
    async read(path) {
      return { ok: true, value: (await running.ask(`/api/file?path=${encodeURIComponent(path)}`)).json as never };
    },
    async save({ path, text, base }) {
      const told = await running.save(path, text, base);
      if (told.status === 409) return { outcome: 'conflict', theirs: told.json as never };
      return { outcome: 'saved', saved: told.json as never };
    },
    watch: () => () => undefined,
  };
}

/** The table of positions alone: the figures beside it need a real browser. */
function Table({ session }: { session: Session }): JSX.Element | null {
  const view = session.subject.view.value;
  return view && <PositionTable view={view} />;
}

describe('the positions, with the real server and the real computation', { timeout: 240_000 }, () => {
  let running: RunningBench;
  let session: Session;
  let stop: (() => void) | null = null;
  const path = 'jobs/lk417.job.yaml';

  beforeAll(async () => {
    // There are no workers here: what a row shows of leads and drawer stays on its way.
    vi.stubGlobal(
      'Worker',
      class extends EventTarget {
        postMessage(): void {
          return undefined;
        }
      },
    );
    const { board } = demo(0);
    running = await runBench({ [path]: jobText, [board.path]: board.text });
  });
  afterAll(async () => {
    // What was last undone is still being saved.
    while (session.file.value?.saving.state !== 'saved') await setTimeout(20);
    await running.close();
  });
  afterEach(() => {
    stop?.();
    document.body.replaceChildren();
  });

  async function open(): Promise<void> {
    const place = document.createElement('div');
    document.body.append(place);
    const server = over(running);
    session = createSession({
      server,
      computers: { quick: createCompute(), slow: createCompute() },
      route: { view: 'sheet', path },
    });
    render(
      <SessionContext.Provider value={session}>
        <Table session={session} />
      </SessionContext.Provider>,
      place,
    );
    stop = await follow(session, server);
    await expect.poll(() => rowKeys(), { timeout: 100_000 }).toContain('C103');
  }

  const rowKeys = (): string[] => [...document.querySelectorAll('button.row-key')].map((each) => each.textContent);
  const button = (name: string): HTMLElement => {
    const found = [...document.querySelectorAll<HTMLElement>('button')].find(
      (each) => (each.getAttribute('aria-label') ?? each.textContent).trim() === name,
    );
    if (!found) throw new Error(`no button ${name}`);
    return found;
  };
  const saved = async (): Promise<string> => String((await running.ask(`/api/file?path=${path}`)).json.text);

  it('opens a row downwards, steps its value and writes no more than that', async () => {
    await open();
    button('C103').click();
    await expect
      .poll(() => document.querySelector('[role="group"][aria-label="Row C103"]'), { timeout: 100_000 })
      .not.toBeNull();
    button('Step up to 33 µF').click();
    await expect.poll(saved, { timeout: 100_000 }).not.toBe(jobText);
    const lines = (await saved()).split('\n');
    const changed = jobText.split('\n').flatMap((line, n) => (line === lines[n] ? [] : [lines[n]]));
    expect(changed).toHaveLength(1);
    expect(changed[0]).toContain('value: 33 µF');
    session.undo();
    await expect.poll(saved, { timeout: 100_000 }).toBe(jobText);
  });

  it('takes a row out and puts it back', async () => {
    await open();
    button('R111').click();
    await expect
      .poll(() => document.querySelector('[role="group"][aria-label="Row R111"]'), { timeout: 100_000 })
      .not.toBeNull();
    button('Remove row R111').click();
    await expect.poll(rowKeys, { timeout: 100_000 }).not.toContain('R111');
    session.undo();
    await expect.poll(rowKeys, { timeout: 100_000 }).toContain('R111');
    await expect.poll(saved, { timeout: 100_000 }).toBe(jobText);
  });
});
