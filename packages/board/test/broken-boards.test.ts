import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { DiagnosticCode } from '../src/diagnostics.ts';
import { readBoard } from '../src/read-board.ts';

const folder = new URL('../../../fixtures/broken/', import.meta.url);
const files = readdirSync(folder).filter((name) => /^[a-z-]+\.board\.yaml$/.test(name) && name !== 'good.board.yaml');

/** Whether a board file by itself can have the fault; the type demands an answer for every code there is. */
const raisedByBoards: Record<DiagnosticCode, boolean> = {
  'yaml-syntax': true,
  'not-a-mapping': true,
  'missing-key': true,
  'unknown-key': true,
  'wrong-version': true,
  'wrong-form': true,
  'bare-number': true,
  'comma-decimal': true,
  'unknown-unit': true,
  'wrong-unit': true,
  'not-a-quantity': true,
  'out-of-range': true,
  'not-a-designator': true,
  'designator-twice': true,
  'channel-mismatch': true,
  'bare-channel-node': true,
  'unknown-node': true,
  'unknown-type': true,
  'type-leads': true,
  'lead-order': true,
  'transit-time': true,
  'leads-on-one-node': true,
  'unknown-position': true,
  'fit-mismatch': false,
  'floating-node': false,
  'no-dc-path': false,
  'rail-loop': false,
  'no-bias': false,
  'unreadable-file': false,
  'unknown-cartridge': false,
  'unknown-rail': false,
};

describe('every fault a board file can have', () => {
  it('has its broken file', () => {
    const codes = Object.entries(raisedByBoards).flatMap(([code, raised]) => (raised ? [code] : []));
    expect(files.map((name) => name.replace('.board.yaml', ''))).toEqual(expect.arrayContaining(codes));
  });

  it('is one of the codes that have a broken file of some kind: every code there is', () => {
    const named = readdirSync(folder).map((name) => name.split('.')[0]);
    expect([...new Set(named)].filter((name) => name !== 'good').toSorted()).toEqual(
      Object.keys(raisedByBoards).toSorted(),
    );
  });

  const read = files.filter((name) => raisedByBoards[name.replace('.board.yaml', '') as DiagnosticCode]);
  it.each(read)('%s: code and place', (name) => {
    const text = readFileSync(new URL(name, folder), 'utf8');
    const expected = /^# expect: (\S+) at (\d+):(\d+)$/m.exec(text);
    const outcome = readBoard(text, name);
    expect(outcome.ok ? [] : outcome.diagnostics.map(({ code, place }) => [code, place.line, place.column])).toEqual([
      [expected?.[1], Number(expected?.[2]), Number(expected?.[3])],
    ]);
  });

  it.each(read)('%s: one line that says what to write', (name) => {
    const outcome = readBoard(readFileSync(new URL(name, folder), 'utf8'), name);
    for (const { code, message } of outcome.ok ? [] : outcome.diagnostics) {
      expect(message).not.toMatch(/\n|undefined|\[object/);
      // The parser's own words on broken YAML say what it expected.
      if (code !== 'yaml-syntax') expect(message).toContain(';');
    }
  });
});
