import { readdirSync, readFileSync } from 'node:fs';
import { agePart, faultMismatch, junctionNames, leadsOf, readBoard, type Fault, type Part } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { solveStage } from '../src/index.ts';
import { probeOf, valueOf } from './stages.ts';

const folder = new URL('../../../seeds/boards/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.board.yaml'));

/** One of each fault that a part can have, as bad as a bench meets it. */
function faultsOf(part: Part): readonly Fault[] {
  const farads = part.kind === 'capacitor' ? part.farads : 0;
  const value =
    part.kind === 'capacitor' ? farads : part.kind === 'inductor' ? part.henries : 'ohms' in part ? part.ohms : 0;
  const faults: readonly Fault[] = [
    { kind: 'open' },
    { kind: 'short' },
    { kind: 'dried', value: 0.05 * farads, esr: 200 },
    { kind: 'leaky', ohms: 20e3 },
    { kind: 'drifted', value: 3 * value },
    { kind: 'leaky_transistor', ICBO: 20e-6 },
    { kind: 'low_hFE', hFE: 5 },
    { kind: 'noisy', corner: 20e3 },
    ...junctionNames.flatMap((junction): Fault[] => [
      { kind: 'junction_open', junction },
      { kind: 'junction_short', junction },
    ]),
    ...Object.keys(leadsOf(part)).flatMap((lead): Fault[] => [
      { kind: 'open_joint', lead },
      { kind: 'contact', lead, ohms: 1e3 },
      { kind: 'cracked_track', lead, beyond: [] },
    ]),
    { kind: 'wiper_open' },
  ];
  return faults.filter((fault) => faultMismatch(part, fault) === null);
}

/** Where nothing holds a grid, gate or input any more, and where the input itself is short: no voltage there, or no current, is defined. */
const refusable = ['floating-node', 'rail-loop'];

describe('every fault of every part', () => {
  it.each(files)('%s is solved with it, or refused by name', { timeout: 60_000 }, (name) => {
    const board = valueOf(readBoard(readFileSync(new URL(name, folder), 'utf8'), name));
    const counts = new Map<string, number>();
    for (const part of board.circuit.parts) {
      for (const fault of faultsOf(part)) {
        const what = `${part.ref} ${JSON.stringify(fault)}`;
        const outcome = solveStage(agePart(board.circuit, part.ref, fault));
        const key = outcome.ok ? outcome.value.point.method : outcome.diagnostics[0]!.code;
        counts.set(key, (counts.get(key) ?? 0) + 1);
        if (outcome.ok) {
          expect(outcome.value.point.x.every(Number.isFinite), what).toBe(true);
          expect(outcome.value.point.kirchhoffRatio, what).toBeLessThanOrEqual(1);
          continue;
        }
        for (const { code, message } of outcome.diagnostics) {
          expect(refusable, what).toContain(code);
          // The part itself, or the neighbour that it leaves hanging.
          expect(message, what).toMatch(/[A-Z]+\d+[AB]?/);
        }
      }
    }
    const total = [...counts.values()].reduce((sum, each) => sum + each, 0);
    console.log(`${name}: ${total} faults: ${[...counts].map(([key, count]) => `${count} ${key}`).join(', ')}`);
    const refused = refusable.reduce((sum, code) => sum + (counts.get(code) ?? 0), 0);
    expect(total).toBeGreaterThan(100);
    expect(refused).toBeLessThan(total / 20);
  });

  it('has a gain, or none, but never a figure that is no number', () => {
    const board = valueOf(readBoard(readFileSync(new URL('lk417.board.yaml', folder), 'utf8'), 'lk417'));
    let solved = 0;
    for (const part of board.circuit.parts.filter(({ channel }) => channel !== 'right')) {
      for (const fault of faultsOf(part)) {
        const circuit = agePart(board.circuit, part.ref, fault);
        if (!solveStage(circuit).ok) continue;
        const db = probeOf(circuit).reader.gainDb(0, 1000);
        solved++;
        expect(Number.isNaN(db), `${part.ref} ${JSON.stringify(fault)}`).toBe(false);
        expect(db).toBeLessThan(120);
      }
    }
    expect(solved).toBeGreaterThan(200);
  });
});
