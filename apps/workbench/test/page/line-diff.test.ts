import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sideBySide, withoutEqualStretches } from '../../src/page/parts/line-diff.ts';

describe('two texts side by side', () => {
  it('lose no line and change none', () => {
    const text = fc.array(fc.constantFrom('a', 'b', 'c', '')).map((lines) => lines.join('\n'));
    fc.assert(
      fc.property(text, text, (mine, theirs) => {
        const pairs = sideBySide(mine, theirs);
        const side = (lines: readonly (string | null)[]): string => lines.filter((line) => line !== null).join('\n');
        expect(side(pairs.map((pair) => pair.mine))).toBe(mine);
        expect(side(pairs.map((pair) => pair.theirs))).toBe(theirs);
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });

  it('set a changed line opposite what it was, and equal lines opposite each other', () => {
    expect(sideBySide('head\nmine\ntail', 'head\ntheirs\nmore\ntail')).toEqual([
      { mine: 'head', theirs: 'head' },
      { mine: 'mine', theirs: 'theirs' },
      { mine: null, theirs: 'more' },
      { mine: 'tail', theirs: 'tail' },
    ]);
  });

  it('tell of long equal stretches only how long they are', () => {
    const lines = Array.from({ length: 9 }, (_, n) => `line ${n}`);
    const shown = withoutEqualStretches(sideBySide([...lines, 'mine'].join('\n'), [...lines, 'theirs'].join('\n')));
    expect(shown).toEqual([
      7,
      { mine: 'line 7', theirs: 'line 7' },
      { mine: 'line 8', theirs: 'line 8' },
      { mine: 'mine', theirs: 'theirs' },
    ]);
  });
});
