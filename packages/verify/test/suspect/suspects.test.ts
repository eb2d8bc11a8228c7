import { readFileSync } from 'node:fs';
import { agePart, joinJob, readBoard, readJob, type Circuit, type Fault, type Job } from '@curvewright/board';
import { idealSource, nodeVolts } from '@curvewright/network';
import { describe, expect, it } from 'vitest';
import {
  atOnce,
  evidenceOf,
  gainReader,
  suspectSteps,
  type MeasuredResponse,
  type SuspectAnswer,
} from '../../src/index.ts';
import { withMeter } from '../../src/suspect/predict.ts';
import { stageOf, valueOf } from '../stages.ts';

const folder = new URL('../../../../seeds/boards/', import.meta.url);
const board = (name: string) => valueOf(readBoard(readFileSync(new URL(`${name}.board.yaml`, folder), 'utf8'), name));
const lk205 = board('lk205');
const lk630 = board('lk630');

const usual = { resistance: 10e6, accuracy: 0.01 };
const pointer = { sensitivity: 20e3, range: 10, accuracy: 0.03 };

/** V that a meter shows at each node of a board, as a job writes them. */
function readOff(circuit: Circuit, nodes: readonly string[], meter: typeof usual | typeof pointer = usual): string {
  return nodes
    .map((node) => {
      const { network, point } = stageOf(withMeter(circuit, [node, 'gnd'], meter));
      return `${node}: ${nodeVolts(network, point, node).toFixed(3)} V`;
    })
    .join(', ');
}

function jobWith(on: typeof lk205, readings: string, more: string = ''): Job {
  const text = `job: 1\ntitle: invented\nboard: x.board.yaml\nreadings: [{ state: found, ${readings} }]\n${more}\n`;
  return valueOf(joinJob(valueOf(readJob(text, 'x.job.yaml')), on));
}

function ask(job: Job, response: MeasuredResponse | null = null): SuspectAnswer {
  const { circuit, matched } = job.board;
  const evidence = evidenceOf(
    job,
    'found',
    circuit.channels.map(({ name }) => name),
    response,
  );
  const { suspecting } = job.entry;
  return valueOf(
    atOnce(suspectSteps({ circuit, source: idealSource, matched, evidence, ...(suspecting && { suspecting }) })),
  );
}

const chart = ['b1', 'c1', 'e1', 'c2', 'e2'].flatMap((node) => [`${node}@left`, `${node}@right`]).concat('vdd', 'vcc');
const meterWords = 'meter: { resistance: 10 MΩ, accuracy: 1 % }';

const chartOf = (circuit: Circuit): string => `${meterWords}, volts: { ${readOff(circuit, chart)} }`;

/** Each asks for a catalogue of a whole board. */
const patience = { timeout: 120_000 };

describe('suspects of a voltage chart', patience, () => {
  it.each<[string, Fault]>([
    ['R107', { kind: 'drifted', value: 1100 }],
    ['Q104', { kind: 'junction_short', junction: 'base_emitter' }],
    ['C101', { kind: 'leaky', ohms: 90e3 }],
  ])('%s first, by name, kind and value', (ref, fault) => {
    const answer = ask(jobWith(lk205, chartOf(agePart(lk205.circuit, ref, fault))));
    expect(answer.answer).toBe('suspects');
    const [first] = answer.suspects;
    expect(first!.faults.map((each) => [each.ref, each.fault])).toEqual([[ref, fault.kind]]);
    expect(first!.probability).toBeGreaterThan(0.5);
    // Readings are rounded to a millivolt; a prediction at the fitted value lies within what the meter resolves.
    answer.readings.forEach(({ measured, sigma }, n) => {
      expect(Math.abs(first!.predicted[n]! - measured)).toBeLessThan(Math.max(1.5 * sigma, 0.02));
    });
    const value = 'value' in fault ? fault.value : 'ohms' in fault ? fault.ohms : null;
    // Other parts within tolerance leave the value open by some percent; the readings are those of nominal ones.
    if (value !== null) expect(Math.abs(first!.faults[0]!.value! / value - 1)).toBeLessThan(0.15);
  });

  it('is nothing wrong on the healthy board, and names no part', () => {
    const answer = ask(jobWith(lk205, chartOf(lk205.circuit)));
    expect(answer.answer).toBe('nothing wrong');
    expect(answer.parts.every(({ probability }) => probability < 0.1)).toBe(true);
    expect(answer.next.length).toBeGreaterThan(0);
  });

  it('takes the load of a pointer meter for what it is', () => {
    const low = readOff(lk205.circuit, ['b1@left', 'c1@left', 'c2@left'], pointer);
    const words = 'meter: { sensitivity: 20 kΩ/V, range: 10 V, accuracy: 3 % }';
    expect(ask(jobWith(lk205, `${words}, volts: { ${low} }`)).answer).toBe('nothing wrong');
    // The same volts on a meter that takes nothing are those of a sick board.
    const taken = ask(jobWith(lk205, `${meterWords}, volts: { ${low} }`));
    expect(taken.answer).not.toBe('nothing wrong');
  });

  it('points at what the channels share where both are off', () => {
    const faulty = agePart(lk205.circuit, 'R121', { kind: 'drifted', value: 2200 });
    const answer = ask(jobWith(lk205, chartOf(faulty)));
    expect(['R121', 'C113']).toContain(answer.parts[0]!.ref);
    expect(answer.suspects[0]!.faults[0]!.channel).toBeNull();
  });

  it('says that no single fault explains two of them, and finds both', () => {
    const one = agePart(lk205.circuit, 'R107', { kind: 'drifted', value: 1100 });
    const both = agePart(one, 'Q104', { kind: 'junction_short', junction: 'base_emitter' });
    const answer = ask(jobWith(lk205, chartOf(both)));
    expect(answer.answer).toBe('no single fault');
    expect(answer.suspects[0]!.faults.map(({ ref }) => ref).sort()).toEqual(['Q104', 'R107']);
    expect(answer.suspects[0]!.chance).toBeGreaterThan(0.001);
  });

  it('has a rail that is off put right first, and does not accuse the parts behind it', () => {
    const low = { ...lk205.circuit, rails: lk205.circuit.rails.map((rail) => ({ ...rail, volts: 19 })) };
    const answer = ask(jobWith(lk205, chartOf(low)));
    expect(answer.rails).toHaveLength(1);
    expect(answer.rails[0]!.advice).toBe('correct vcc first');
    expect(answer.suspects[0]!.faults.map(({ ref }) => ref)).toEqual(['vcc']);
    expect(answer.suspects[0]!.probability).toBeGreaterThan(0.5);
  });

  it('follows the job where it says how often a fault is met', () => {
    const readings = chartOf(agePart(lk205.circuit, 'R107', { kind: 'drifted', value: 1100 }));
    const answer = ask(jobWith(lk205, readings, 'suspecting: { priors: { drifted: 0 }, minutes: { volts: 30 } }'));
    expect(answer.suspects.flatMap(({ faults }) => faults).every(({ fault }) => fault !== 'drifted')).toBe(true);
    expect(answer.next.filter(({ kind }) => kind === 'volts').every(({ minutes }) => minutes === 30)).toBe(true);
  });
});

describe('suspects of a curve, of the ear and of the ohmmeter', patience, () => {
  const responseOf = (circuit: Circuit): MeasuredResponse => {
    const reader = gainReader(stageOf(circuit));
    const points = (channel: number) =>
      [20, 50, 100, 1000, 10_000].map((hz) => ({ hz, db: reader.gainDb(channel, hz), sigmaDb: 0.1 }));
    return { levelDb: 0.3, channels: { left: points(0), right: points(1) } };
  };

  it('finds the dried capacitor of a feedback leg, and what its bass loss is tied with', () => {
    const faulty = agePart(lk630.circuit, 'C104', { kind: 'dried', value: 4e-6, esr: 20 });
    const answer = ask(jobWith(lk630, 'heard: []'), responseOf(faulty));
    expect(answer.parts.slice(0, 3).map(({ ref }) => ref)).toContain('C104');
    expect(answer.parts.slice(0, 3).every(({ ref }) => Number(ref.slice(1)) % 2 === 0)).toBe(true);
  });

  it('finds the same by left minus right', () => {
    const faulty = agePart(lk630.circuit, 'C106', { kind: 'drifted', value: 24e-9 });
    const { channels } = responseOf(faulty);
    const balance = channels.left!.map(({ hz, db }, n) => ({ hz, db: db - channels.right![n]!.db, sigmaDb: 0.1 }));
    const answer = ask(jobWith(lk630, 'heard: []'), { levelDb: 0.3, channels: {}, balance });
    expect(answer.parts[0]!.ref).toBe('C106');
  });

  it('names the tie where nothing passes', () => {
    const faulty = agePart(lk630.circuit, 'C111', { kind: 'open' });
    const answer = ask(jobWith(lk630, 'heard: [{ what: no sound, channel: left }]'), responseOf(faulty));
    const tie = answer.ties.find((refs) => refs.includes('C111'));
    expect(tie).toEqual(expect.arrayContaining(['C101', 'C111', 'R111']));
    // A good one across the right one of them tells: the bench is told to mind the power.
    const bridge = answer.next.find(({ kind }) => kind === 'bridge');
    expect(bridge?.caution).toMatch(/power off, discharge/);
    expect(bridge?.outcomes).toHaveLength(2);
  });

  it('lets what is heard speak for what does it', () => {
    const answer = ask(jobWith(lk630, 'heard: [{ what: popping, channel: right }]'));
    const [first] = answer.suspects;
    expect(first!.faults[0]!.channel === 'right' || first!.faults[0]!.channel === null).toBe(true);
    expect(answer.nothingWrong).toBeLessThan(0.5);
  });

  it('reads resistors cold', () => {
    const faulty = 'ohms: { o@left-n1@left: 820 kΩ, n1@left-m@left: 22.6 kΩ, out@left-gnd: 220 kΩ }';
    const answer = ask(jobWith(lk630, `${meterWords}, ${faulty}`));
    expect(answer.parts[0]!.ref).toBe('R105');
    expect(answer.parts[0]!.probability).toBeGreaterThan(0.9);
    const drifted = answer.suspects.find(({ faults: [fault] }) => fault!.fault === 'drifted');
    // Electrolytics without voltage leak what they like beside it: a tenth.
    expect(Math.abs(drifted!.faults[0]!.value! / 820e3 - 1)).toBeLessThan(0.1);
  });
});
