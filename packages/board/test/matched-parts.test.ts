import { describe, expect, it } from 'vitest';
import { readBoard } from '../src/read-board.ts';
import { wholeBoard } from './whole-board.ts';

function matched(entry: string): unknown {
  const outcome = readBoard(wholeBoard.replace(/^matched: .*$/m, entry), 'b.yaml');
  return outcome.ok ? outcome.value.matched : outcome.diagnostics.map(({ code, message }) => [code, message]);
}

describe('matched', () => {
  it('reads groups of parts, of both channels or of one', () => {
    expect(matched('matched: [Q101/Q102, Q103/J101/R101]')).toEqual([
      ['Q101', 'Q102'],
      ['Q103', 'J101', 'R101'],
    ]);
  });

  it('is empty where the file is silent', () => {
    expect(matched('')).toEqual([]);
  });

  it('refuses a part that is not there, and offers one that is', () => {
    expect(matched('matched: [Q101/Q112]')).toEqual([
      ['unknown-position', expect.stringMatching(/^matched: there is no part Q112; did you mean Q10[12]\?$/)],
    ]);
  });

  it('refuses a part in two groups', () => {
    expect(matched('matched: [Q101/Q102, Q102/Q103]')).toEqual([['designator-twice', expect.stringContaining('Q102')]]);
  });

  it('refuses a part alone, which is like no other', () => {
    expect(matched('matched: [Q101]')).toEqual([['not-a-designator', expect.stringContaining('Q101/Q102')]]);
  });
});
