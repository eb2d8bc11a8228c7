import { describe, expect, it } from 'vitest';
import { readBoard } from '../src/read-board.ts';
import { wholeBoard } from './whole-board.ts';

function drawing(entry: string): unknown {
  const outcome = readBoard(wholeBoard.replace(/^matched: .*$/m, entry), 'b.yaml');
  return outcome.ok ? { ...outcome.value.drawing } : outcome.diagnostics.map(({ code, message }) => [code, message]);
}

describe('drawing', () => {
  it('places a part, and the same part of every other channel', () => {
    expect(drawing('drawing: { Q101: [24, -6] }')).toEqual({ Q101: [24, -6], Q102: [24, -6] });
    expect(drawing('drawing: { Q101/Q102: [24, -6.5] }')).toEqual({ Q101: [24, -6.5], Q102: [24, -6.5] });
  });

  it('is empty where the file is silent', () => {
    expect(drawing('')).toEqual({});
  });

  it('refuses a part that is not there, and offers one that is', () => {
    expect(drawing('drawing: { Q112: [24, -6] }')).toEqual([
      ['unknown-position', expect.stringMatching(/^drawing: there is no part Q112; did you mean Q10[12]\?$/)],
    ]);
  });

  it('refuses a place without two numbers', () => {
    expect(drawing('drawing: { Q101: [24] }')).toEqual([['wrong-form', expect.stringContaining('[24, -6]')]]);
  });
});
