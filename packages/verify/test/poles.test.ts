import { readFileSync } from 'node:fs';
import { readBoard, type Board, type Circuit, type Part } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { polesAnswer, stabilityFigures, type PolesAnswer } from '../src/index.ts';
import { monoBoard, stageOf, valueOf } from './stages.ts';

const boards = ['lk205', 'lk310', 'lk417', 'lk520', 'lk630'] as const;

function seed(name: (typeof boards)[number]): Board {
  const file = new URL(`../../../seeds/boards/${name}.board.yaml`, import.meta.url);
  return valueOf(readBoard(readFileSync(file, 'utf8'), `${name}.board.yaml`));
}

function answerTo(board: Board, circuit: Circuit = board.circuit): PolesAnswer {
  return valueOf(polesAnswer(stageOf(circuit), board.loops));
}

function words({ worst, subsonic, radio, loops }: PolesAnswer): string {
  const pair = (name: string, found: PolesAnswer['worst']): string =>
    found === null
      ? `${name} none`
      : `${name} Q ${found.q?.toFixed(2)} at ${found.hz.toPrecision(3)} Hz (${found.parts[0]?.ref})`;
  const margins = loops.map(({ lead, marginDeg }) => `${lead} ${marginDeg?.toFixed(1)}°`);
  return [pair('worst', worst), pair('subsonic', subsonic), pair('radio', radio), ...margins].join(', ');
}

describe('the seed boards', () => {
  it.each(boards)('%s is stable, every Q at most 2 and every stated margin at least 45°', (name) => {
    const board = seed(name);
    const answer = answerTo(board);
    console.log(`${name}: ${words(answer)}`);
    expect(answer.stable).toBe(true);
    const { q, margins } = stabilityFigures(answer);
    expect(q ?? 0).toBeLessThanOrEqual(2);
    for (const { marginDeg } of margins) expect(marginDeg).toBeGreaterThanOrEqual(45);
    expect(answer.checks.count).toBe(answer.poles.length);
    // What rounding, 1e-16, may do to a pole whose condition in these equations is up to 1e8.
    expect(answer.checks.largestResidual).toBeLessThan(1e-6);
    expect(answer.checks.logProductError).toBeLessThan(1e-6);
  });

  it('lk205 names the parts of its subsonic resonance', () => {
    // The board's own words: R103's loop, the input capacitor and the emitter capacitor C103 make it.
    const { subsonic } = answerTo(seed('lk205'));
    const refs = subsonic!.parts.map(({ ref }) => ref);
    for (const ref of ['C101', 'C103', 'R103']) expect(refs).toContain(ref);
    expect(subsonic!.hz).toBeGreaterThan(2);
    expect(subsonic!.hz).toBeLessThan(3);
  });

  it('both halves of a stereo board give a margin where one is named', () => {
    expect(answerTo(seed('lk417')).loops.map(({ channel, lead }) => [channel, lead])).toEqual([
      ['left', 'Q103.base'],
      ['right', 'Q104.base'],
    ]);
    expect(answerTo(seed('lk205')).loops).toEqual([]);
  });
});

describe('substitutions on the stereo triple', () => {
  const board = seed('lk417');
  const change = (edit: (part: Part) => Part | null): Circuit => ({
    ...board.circuit,
    parts: board.circuit.parts.flatMap((part) => edit(part) ?? []),
  });
  const withTransit = (by: number): Circuit =>
    change((part) =>
      part.kind === 'typed' && part.type.kind === 'npn' && part.type.fT
        ? { ...part, type: { ...part.type, fT: { ...part.type.fT, value: part.type.fT.value * by } } }
        : part,
    );
  const drawn = answerTo(board);
  const cases: Readonly<Record<string, PolesAnswer>> = {
    drawn,
    'transistors three times as quick': answerTo(board, withTransit(3)),
    'transistors a tenth as quick': answerTo(board, withTransit(0.1)),
    'no compensation capacitor': answerTo(
      board,
      change((part) => (/^C10[56]$/.test(part.ref) ? null : part)),
    ),
    '2.2 nF of cable at the output': answerTo(board, {
      ...board.circuit,
      channels: board.circuit.channels.map((channel) => ({
        ...channel,
        load: { ...channel.load, capacitance: 2.2e-9 },
      })),
    }),
  };

  it.each(Object.entries(cases))('%s', (name, answer) => {
    console.log(`lk417, ${name}: ${words(answer)}`);
    expect(answer.poles.every(({ realPerS }) => realPerS < 0)).toBe(answer.stable);
  });

  it('slower transistors and a missing compensation capacitor ring more', () => {
    const q = (name: string): number => cases[name]!.worst!.q!;
    expect(q('transistors a tenth as quick')).toBeGreaterThan(q('drawn'));
    expect(q('no compensation capacitor')).toBeGreaterThan(q('drawn'));
    const margin = (name: string): number => cases[name]!.loops[0]!.marginDeg!;
    expect(margin('no compensation capacitor')).toBeLessThan(margin('drawn'));
  });
});

describe('an answer', () => {
  const oscillator = (gain: number): Board =>
    monoBoard(
      `
      R9: { kind: resistor, value: 10 kΩ, between: [in, gnd] }
      U1: { type: OA, plus: gnd, minus: m, out: out }
      R4: { kind: resistor, value: ${gain * 10} kΩ, between: [m, out] }
      C1: { kind: capacitor, value: 10 nF, between: [out, a] }
      R1: { kind: resistor, value: 10 kΩ, between: [a, gnd] }
      C2: { kind: capacitor, value: 10 nF, between: [a, b] }
      R2: { kind: resistor, value: 10 kΩ, between: [b, gnd] }
      C3: { kind: capacitor, value: 10 nF, between: [b, c] }
      R3: { kind: resistor, value: 10 kΩ, between: [c, m] }`,
      'types: { OA: { kind: opamp, gain: 120 dB, GBW: 10 MHz } }\nloop: { lead: U1.minus }',
    );

  it('says unstable with a negative margin above the threshold of a phase-shift oscillator', () => {
    // Textbook: gain 29. The op-amp's own roll-off moves that by some parts in a thousand.
    const [below, above] = [answerTo(oscillator(28)), answerTo(oscillator(30))];
    expect([below.stable, above.stable]).toEqual([true, false]);
    expect(above.worst!.realPerS).toBeGreaterThan(0);
    expect(stabilityFigures(above).stable).toBe(false);
    expect(stabilityFigures(below).q).toBeGreaterThan(2);
    expect(below.loops[0]!.marginDeg).toBeGreaterThan(0);
    expect(above.loops[0]!.marginDeg).toBeLessThan(0);
  });

  it('has Hz and Q of a pair, and what one per cent of a part does to both', () => {
    const rlc = (henries: number): Board =>
      monoBoard(`
        L1: { kind: inductor, value: ${henries * 1e3} mH, resistance: 30 Ω, between: [in, out] }
        C1: { kind: capacitor, value: 1 µF, between: [out, gnd] }`);
    const { poles, worst } = answerTo(rlc(10e-3));
    expect(poles).toHaveLength(2);
    // Series RLC: 1/(2π√LC), √(L/C)/R; exact but for rounding.
    expect(worst!.hz).toBeCloseTo(1 / (2 * Math.PI * 1e-4), 6);
    expect(worst!.q).toBeCloseTo(100 / 30, 10);
    const coil = worst!.parts.find(({ ref }) => ref === 'L1')!;
    expect(coil.hzPercentPerPercent).toBeCloseTo(-0.5, 10);
    expect(coil.qPercentPerPercent).toBeCloseTo(0.5, 10);
    const capacitor = worst!.parts.find(({ ref }) => ref === 'C1')!;
    expect(capacitor.hzPercentPerPercent).toBeCloseTo(-0.5, 10);
    expect(capacitor.qPercentPerPercent).toBeCloseTo(-0.5, 10);
  });

  it('gives real poles no Q, and says what a loss factor is taken as', () => {
    const { poles, worst, notes, zeros } = answerTo(
      monoBoard(`
        R1: { kind: resistor, value: 1 kΩ, between: [in, out] }
        C1: { kind: capacitor, value: 1 µF, between: [out, gnd], loss: 0.1 }`),
    );
    expect(poles.map(({ q }) => q)).toEqual([null]);
    expect(worst).toBeNull();
    expect(notes.join()).toMatch(/1 kHz/);
    // The series resistance gives a zero where the plain capacitor has none: 1/(tan δ/(2π·1 kHz)).
    expect(zeros).toHaveLength(1);
    expect(zeros[0]!.hz).toBeCloseTo(1000 / 0.1, 6);
  });
});
