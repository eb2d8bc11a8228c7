import { circuitOf, type Circuit } from '@curvewright/board';
import { frequencySolver, nodeVolts, solveResponse } from '@curvewright/network';
import { gainReader, solveStage, type Stage } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { referenceGain } from '../../packages/network/test/reference.ts';
import { worstKirchhoff } from './kirchhoff.ts';
import { readFixture, seedBoard, seedJob, seedNames, valueOf } from './read-seeds.ts';

/** What fixtures/reference/solve.py, an independent solver in NumPy, makes of the same files. */
interface Reference {
  readonly nodes: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly gainDb1k: Readonly<Record<string, number>>;
  readonly response: Readonly<Record<string, readonly { hz: number; db: number; phaseDeg: number }[]>>;
}

const { boards, jobs } = JSON.parse(readFixture('fixtures/reference/seeds.json')) as {
  boards: Readonly<Record<string, Reference>>;
  jobs: Readonly<Record<string, Readonly<Record<string, Reference>>>>;
};

interface Case {
  readonly name: string;
  readonly circuit: Circuit;
  readonly reference: Reference;
}

const cases: readonly Case[] = [
  ...seedNames.map((name): Case => ({ name, circuit: seedBoard(name).circuit, reference: boards[name]! })),
  ...(['found', 'rebuilt'] as const).map((state): Case => ({
    name: `job lk417 ${state}`,
    circuit: circuitOf(seedJob(), state)!.circuit,
    reference: jobs.lk417![state]!,
  })),
];

const stageOf = (circuit: Circuit): Stage => valueOf(solveStage(circuit));

describe.each(cases)('$name against the independent reference', ({ name, circuit, reference }) => {
  const stage = stageOf(circuit);
  const shared = new Set(['gnd', ...circuit.rails.map(({ node }) => node), ...circuit.common]);

  it('has its node voltages', () => {
    let worst = 0;
    let count = 0;
    for (const [channel, nodes] of Object.entries(reference.nodes)) {
      for (const [node, volts] of Object.entries(nodes)) {
        const own = nodeVolts(stage.network, stage.point, shared.has(node) ? node : `${node}@${channel}`);
        // Both stop at a Kirchhoff sum near 1e-13 A; over nodes of up to 1 MΩ that is 1e-7 V at most and far less on those that are
        // held better. 1e-9 of a voltage, or 1 nV on nodes near 0 V.
        worst = Math.max(worst, Math.abs(own - volts) / Math.max(Math.abs(volts), 1));
        count++;
      }
    }
    console.log(`${name}: ${count} node voltages, worst ${worst.toExponential(1)} V relative`);
    expect(count).toBeGreaterThanOrEqual(20);
    expect(worst).toBeLessThan(1e-9);
  });

  it('has its levels and phases from 2 Hz to 100 kHz', () => {
    const reader = gainReader(stage);
    const worst = { db: 0, degrees: 0 };
    let count = 0;
    circuit.channels.forEach((channel, index) => {
      expect(Math.abs(reader.gainDb(index, 1000) - reference.gainDb1k[channel.name]!)).toBeLessThan(1e-6);
      for (const { hz, db, phaseDeg } of reference.response[channel.name]!) {
        worst.db = Math.max(worst.db, Math.abs(reader.gainDb(index, hz) - db));
        const turn = Math.abs(reader.phaseDeg(index, hz) - phaseDeg);
        worst.degrees = Math.max(worst.degrees, Math.min(turn, 360 - turn));
        count++;
      }
    });
    console.log(`${name}: ${count} gains, worst ${worst.db.toExponential(1)} dB and ${worst.degrees.toExponential(1)}°`);
    expect(count).toBe(34);
    // Slopes follow the bias: 1e-9 V over kT/q of 26 mV is 3e-7 dB and 2e-6° of a single device; feedback leaves less.
    expect(worst.db).toBeLessThan(1e-6);
    expect(worst.degrees).toBeLessThan(1e-5);
  });

  it("fulfils Kirchhoff's law at every node", () => {
    const { node, ratio } = worstKirchhoff(circuit, stage.network, stage.point);
    console.log(`${name}: largest Kirchhoff sum ${ratio.toFixed(3)} of what rounding allows, at ${node || 'no node'}`);
    expect(ratio).toBeLessThanOrEqual(1);
    // The same said by the solver itself.
    expect(stage.point.kirchhoffRatio).toBeLessThanOrEqual(1);
  });
});

describe('response of the seed boards', () => {
  const frequencies = Float64Array.from(boards.lk417!.response.left!, ({ hz }) => hz);

  it('agrees with a dense real solve by ml-matrix within max(1e-9, 20 eps · condition)', { timeout: 60_000 }, () => {
    expect(frequencies).toHaveLength(17);
    const worst = { gap: 0, share: 0, condition: 0, residual: 0, at: '' };
    for (const name of seedNames) {
      const { small } = stageOf(seedBoard(name).circuit);
      const response = solveResponse(small, frequencies);
      worst.residual = Math.max(worst.residual, response.residual);
      frequencies.forEach((hz, n) => {
        const { gain, condition } = referenceGain(small, hz);
        const flat = response.gains[0]![0]!;
        const gap = Math.hypot(flat[2 * n]! - gain[0], flat[2 * n + 1]! - gain[1]) / Math.hypot(...gain);
        const share = gap / Math.max(1e-9, 20 * Number.EPSILON * condition);
        if (gap > worst.gap) Object.assign(worst, { gap, at: `${name} at ${hz} Hz` });
        worst.share = Math.max(worst.share, share);
        worst.condition = Math.max(worst.condition, condition);
      });
    }
    console.log(
      `seed boards against ml-matrix: worst difference ${worst.gap.toExponential(1)} (${worst.at}), ${worst.share.toExponential(1)} of ` +
        `what is allowed; worst condition ${worst.condition.toExponential(1)}; worst residual ${worst.residual.toExponential(1)}`,
    );
    expect(worst.share).toBeLessThanOrEqual(1);
    // A backward-stable solve leaves some n·eps, n under 50.
    expect(worst.residual).toBeLessThan(1e-13);
  });

  it('is the same whether a solver is kept for many frequencies or made anew', () => {
    const { small } = stageOf(seedBoard('lk417').circuit);
    const kept = frequencySolver(small);
    const all = solveResponse(small, frequencies);
    frequencies.forEach((hz, n) => {
      const one = solveResponse(small, Float64Array.of(hz), kept).gains[1]![1]!;
      expect([...one]).toEqual([...all.gains[1]![1]!.subarray(2 * n, 2 * n + 2)]);
    });
  });
});
