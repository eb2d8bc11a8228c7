import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { noHistory, redo, undo, withStep, type History, type Step } from '../../src/page/store/history.ts';

const step = (path: string, before: string, after: string, mark: string | null = null): Step => ({
  ...{ path, before, after, mark },
  what: `${before} to ${after}`,
});

/** Files after all that was undone has been undone. */
function unwound(history: History, files: Map<string, string>): History {
  for (let now = history; ;) {
    const back = undo(now);
    if (back === null) return now;
    files.set(back.step.path, back.step.before);
    now = back.history;
  }
}

describe('the history of a session', () => {
  it('brings back every file as it was, and then as it became', () => {
    const edits = fc.array(
      fc.record({
        path: fc.constantFrom('a', 'b', 'c'),
        text: fc.string(),
        mark: fc.option(fc.constantFrom('x', 'y')),
      }),
    );
    fc.assert(
      fc.property(edits, (made) => {
        const files = new Map([...'abc'].map((path) => [path, path]));
        const first = new Map(files);
        let history = noHistory;
        for (const { path, text, mark } of made) {
          history = withStep(history, step(path, files.get(path) ?? '', text, mark));
          files.set(path, text);
        }
        const last = new Map(files);
        history = unwound(history, files);
        expect(files).toEqual(first);
        for (let again = redo(history); again !== null; again = redo(again.history)) {
          files.set(again.step.path, again.step.after);
        }
        expect(files).toEqual(last);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });

  it('takes the letters of a word as one step, and no two words', () => {
    let history = withStep(noHistory, step('a', '', 'w', 'word 1'));
    history = withStep(history, step('a', 'w', 'wo', 'word 1'));
    history = withStep(history, step('a', 'wo', 'wo r', 'word 2'));
    expect(history.done.map(({ before, after }) => [before, after])).toEqual([
      ['', 'wo'],
      ['wo', 'wo r'],
    ]);
  });

  it('forgets what was undone once something new is done', () => {
    const back = undo(withStep(noHistory, step('a', '1', '2')));
    const history = withStep(back?.history ?? noHistory, step('a', '1', '3'));
    expect(redo(history)).toBeNull();
  });
});
