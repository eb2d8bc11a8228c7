import { describe, expect, it } from 'vitest';
import { readTypes } from '../../src/index.ts';

describe('types beside a drawer', () => {
  it('are read as a board file writes them', () => {
    const read = readTypes(
      'types:\n  DS-A: { kind: diode, VF: [{ value: 0.63 V, at: 1 mA }, { value: 0.74 V, at: 10 mA }] }\n',
      't',
    );
    expect(read).toMatchObject({ ok: true, value: { 'DS-A': { kind: 'diode' } } });
  });

  it.each([
    ['no types', 'parts: {}\n', 'unknown-key', 1],
    ['an unknown kind', 'types:\n  X: { kind: pentode }\n', 'wrong-form', 2],
    ['no YAML', 'types: {\n', 'yaml-syntax', undefined],
  ])('are refused where they stand: %s', (_, text, code, line) => {
    const read = readTypes(text, 't.yaml');
    const faults = read.ok ? [] : read.diagnostics;
    expect(faults.map((each) => each.code)).toContain(code);
    if (line !== undefined) expect(faults.find((each) => each.code === code)?.place.line).toBe(line);
  });
});
