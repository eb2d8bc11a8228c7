import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { boardFrom, outcomeOf } from './job-texts.ts';

const folder = new URL('../../../fixtures/broken/', import.meta.url);
const read = (name: string): string => readFileSync(new URL(name, folder), 'utf8');
const files = readdirSync(folder).filter((name) => name.endsWith('.job.yaml'));
const good = boardFrom(read('good.board.yaml'));

describe('faults that take a job', () => {
  it('have their broken file', () => {
    const codes = files.map((name) => name.replace('.job.yaml', ''));
    expect(codes).toEqual(expect.arrayContaining(['unknown-position', 'fit-mismatch', 'lead-order']));
  });

  // What is broken in a file of circuits or of the tool itself is asserted where that is computed.
  const ours = files.filter((name) => /^(unknown-position|fit-mismatch|lead-order)\./.test(name));
  it.each(ours)('%s: code, place, and one line that says what to write', (name) => {
    const text = read(name);
    const expected = /^# expect: (\S+) at (\d+):(\d+)$/m.exec(text);
    const outcome = outcomeOf(text, good);
    const diagnostics = outcome.ok ? [] : outcome.diagnostics;
    expect(diagnostics.map(({ code, place }) => [code, place.line, place.column])).toEqual([
      [expected?.[1], Number(expected?.[2]), Number(expected?.[3])],
    ]);
    for (const { message } of diagnostics) {
      expect(message).toContain(';');
      expect(message).not.toMatch(/\n|undefined|\[object/);
    }
  });
});
