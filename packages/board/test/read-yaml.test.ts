import { describe, expect, it } from 'vitest';
import { readYaml } from '../src/read-yaml.ts';

const codes = (text: string): readonly string[] =>
  readYaml(text, 'f').diagnostics.map(({ code, place }) => `${code} ${place.line}:${place.column}`);

describe('readYaml', () => {
  it('keeps every scalar as written, and empty ones as null', () => {
    expect(readYaml('{ a: 0104417, b: 1.50, c: yes, d: , e: ~, f: "", g: null, h: 2026-03-01 }', 'f').value).toEqual({
      a: '0104417',
      b: '1.50',
      c: 'yes',
      d: null,
      e: null,
      f: '',
      g: null,
      h: '2026-03-01',
    });
  });

  it('knows where keys and values stand, and the nearest key above what is not there', () => {
    const { placeOf } = readYaml('a:\n  b: [1, 22]\n', 'f');
    expect(placeOf(['a', 'b'], 'key')).toEqual({ file: 'f', line: 2, column: 3 });
    expect(placeOf(['a', 'b'], 'value')).toEqual({ file: 'f', line: 2, column: 6 });
    expect(placeOf(['a', 'b', 1], 'value')).toEqual({ file: 'f', line: 2, column: 10 });
    expect(placeOf(['a', 'b', 'c', 'd'], 'value')).toEqual({ file: 'f', line: 2, column: 3 });
    expect(placeOf([], 'value')).toEqual({ file: 'f', line: 1, column: 1 });
  });

  it('reads aliases, at the place of the alias', () => {
    const { value, placeOf } = readYaml('a: &x { k: 1 }\nb: *x\n', 'f');
    expect(value).toEqual({ a: { k: '1' }, b: { k: '1' } });
    expect(placeOf(['b', 'k'], 'value')).toEqual({ file: 'f', line: 2, column: 4 });
  });

  it('refuses aliases that blow a small file up, that hold themselves, or that stand for nothing', () => {
    const bomb = ['a0: &a0 [x, x, x, x, x, x, x, x, x]'];
    for (let level = 1; level < 9; level++) {
      const one = `*a${level - 1}`;
      bomb.push(`a${level}: &a${level} [${Array.from({ length: 9 }, () => one).join(', ')}]`);
    }
    expect(codes(bomb.join('\n'))).toHaveLength(1);
    expect(codes('a: &x { b: *x }').length).toBeGreaterThan(0);
    expect(codes('a: *x')).toEqual(['yaml-syntax 1:4']);
  });

  it('refuses levels without end, tags, several documents, keys that are no names', () => {
    expect(codes('['.repeat(50_000))).toEqual(['yaml-syntax 1:1']);
    expect(codes(`${'['.repeat(40)}${']'.repeat(40)}`)).toEqual(['yaml-syntax 1:32']);
    expect(codes('a: !mine 1')).toEqual(['yaml-syntax 1:4']);
    expect(codes('a: 1\n---\nb: 2')).toEqual(['yaml-syntax 2:1']);
    expect(codes('{ a: 1, [b]: 2 }')).toEqual(['yaml-syntax 1:9']);
    expect(codes('__proto__: { polluted: 1 }')).toEqual(['unknown-key 1:1']);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  it('calls a key written twice by what it is', () => {
    expect(codes('parts:\n  R1: {}\n  R1: {}\n')).toEqual(['designator-twice 3:3']);
    expect(codes('added:\n  R1: {}\n  R1: {}\n')).toEqual(['designator-twice 3:3']);
    expect(codes('types:\n  A: {}\n  A: {}\n')).toEqual(['yaml-syntax 3:3']);
  });
});
