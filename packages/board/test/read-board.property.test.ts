import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { readBoard } from '../src/read-board.ts';
import { wholeBoard } from './whole-board.ts';

const seed = 20261125;

describe('readBoard on anything', () => {
  it('answers any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        expect(readBoard(text, 'f')).toHaveProperty('ok');
      }),
      { seed, numRuns: 500 },
    );
  });

  it('answers any plain data', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 5 }), fc.jsonValue({ maxDepth: 4 }), (data, parts) => {
        expect(readBoard(JSON.stringify(data), 'f')).toMatchObject({ ok: false });
        expect(readBoard(JSON.stringify({ board: 1, parts, types: parts, limits: data }), 'f')).toMatchObject({
          ok: false,
        });
      }),
      { seed, numRuns: 150 },
    );
  });

  it('answers a board with a piece cut out or put in, with places inside the file', () => {
    const pieces = fc.constantFrom('', '{', '}', '[', ':', ' ', '\n', '&a ', '*a', '!!x ', '"', '0', ',', '@left', '~');
    const at = fc.nat({ max: wholeBoard.length });
    fc.assert(
      fc.property(at, fc.nat({ max: 30 }), pieces, (start, length, piece) => {
        const text = wholeBoard.slice(0, start) + piece + wholeBoard.slice(start + length);
        const lines = text.split('\n');
        const outcome = readBoard(text, 'f');
        for (const { place, message } of outcome.ok ? [] : outcome.diagnostics) {
          expect(place.line).toBeLessThanOrEqual(lines.length);
          // One past the end: where something is missing at the end of a line.
          expect(place.column).toBeLessThanOrEqual((lines[place.line - 1]?.length ?? 0) + 1);
          expect(message).not.toMatch(/\n|undefined|\[object/);
        }
      }),
      { seed, numRuns: 150 },
    );
  });
});

describe('the order of keys', () => {
  it('changes nothing but the order of the parts', () => {
    const whole = parse(wholeBoard, { schema: 'failsafe' }) as Record<string, Record<string, unknown>>;
    const circuitOf = (text: string): unknown => {
      const outcome = readBoard(text, 'f');
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.diagnostics));
      const { circuit, types } = outcome.value;
      // Places tell where a part was written, which is what the shuffle changes.
      const parts = circuit.parts.map((part) => ({ ...part, place: null }));
      return {
        types,
        channels: circuit.channels,
        rails: circuit.rails.map((rail) => ({ ...rail, place: null })).sort((a, b) => (a.node < b.node ? -1 : 1)),
        parts: parts.sort((a, b) => (a.ref < b.ref ? -1 : 1)),
      };
    };
    const straight = circuitOf(wholeBoard);
    const order = fc.infiniteStream(fc.nat({ max: 1e6 }));
    fc.assert(
      fc.property(order, (draws) => {
        const shuffled = (value: unknown): unknown => {
          if (Array.isArray(value)) return value.map(shuffled);
          if (typeof value !== 'object' || value === null) return value;
          const entries = Object.entries(value).map(
            ([key, inner]) => [draws.next().value, key, shuffled(inner)] as const,
          );
          return Object.fromEntries(entries.sort((a, b) => a[0] - b[0]).map(([, key, inner]) => [key, inner]));
        };
        expect(circuitOf(stringify(shuffled(whole)))).toEqual(straight);
      }),
      { seed, numRuns: 50 },
    );
  });
});
