import { circuitWithValue, mergeLimits, type Board, type Circuit } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { causeOf } from '../src/cause.ts';
import { checkJob, crosstalkAnswer, humAnswer, levelOf, settleAnswer } from '../src/index.ts';
import { toldCauseOf } from '../src/told-cause.ts';
import { boardContext, toldOf } from './board-context.ts';
import { figureOf } from './equaliser-job.ts';
import { jobOn, monoBoard, stageOf, stereoBoard, valueOf } from './stages.ts';

const withLimits = (board: Board, limits: Board['limits']): Board => ({ ...board, limits });

/** Both channels take their supply through 100 Ω from one rail and leak into each other there. */
const supplied = stereoBoard(
  `
  R101/R102: { kind: resistor, value: 1 kΩ, between: [in, out] }
  R103/R104: { kind: resistor, value: 100 kΩ, between: [out, v] }
  R105: { kind: resistor, value: 100 Ω, between: [vcc, v] }
  C101: { kind: capacitor, build: aluminium, value: 100 µF, rated: 16 V, plus: v, minus: gnd }`,
  'common: [v]\nrails: { vcc: { volts: 12 V, ripple: 10 mV, ripple_frequency: 100 Hz } }',
);

const crosstalkOf = (circuit: Circuit): number => crosstalkAnswer(stageOf(circuit)).channels[0]!.crosstalkDb!;
const humOf = (circuit: Circuit): number => humAnswer(stageOf(circuit)).channels[0]!.humDb!;
const valueAt = (circuit: Circuit, ref: string): number => {
  const part = circuit.parts.find((each) => each.ref === ref)!;
  return part.kind === 'capacitor' ? part.farads : part.kind === 'resistor' ? part.ohms : NaN;
};

describe('crosstalk and hum', () => {
  it('name the part that a solve of each with a tenth more finds to move them most', () => {
    const context = boardContext(supplied);
    for (const [what, read] of [
      ['crosstalk', crosstalkOf],
      ['hum', humOf],
    ] as const) {
      const moves = supplied.circuit.parts
        .filter(({ channel }) => channel !== 'right')
        .map(({ ref }) => {
          const raised = circuitWithValue(supplied.circuit, ref, 1.1 * valueAt(supplied.circuit, ref));
          return { ref, by: Math.abs(read(raised) - read(supplied.circuit)) };
        })
        .toSorted((a, b) => b.by - a.by);
      expect(toldCauseOf(toldOf(context, what), context).ref).toBe(moves[0]!.ref);
    }
  });

  it('tell in dB what twice the decoupler does, as a stage solved anew has it', () => {
    const context = boardContext(supplied);
    const twice = circuitWithValue(supplied.circuit, 'C101', 200e-6);
    const told = /C101: 100 µF matters most(?: of the decouplers)?: twice as much moves it by ([+−][\d.]+) dB/;
    for (const [what, read] of [
      ['crosstalk', crosstalkOf],
      ['hum', humOf],
    ] as const) {
      const { cause } = toldCauseOf(toldOf(context, what), context);
      const moves = Number(told.exec(cause)?.[1]?.replace('−', '-'));
      // Printed to two digits behind the point.
      expect(moves, cause).toBeCloseTo(read(twice) - read(supplied.circuit), 1.9);
    }
    // At 100 Hz, 100 Ω and 100 µF are far above their corner at 16 Hz: 6.02 dB less a little.
    expect(humOf(twice) - humOf(supplied.circuit)).toBeCloseTo(-6, 0);
  });

  it.each([
    ['hum', humOf, -3, { hum: { good: humOf(supplied.circuit) - 3, look: 0 } }],
    ['crosstalk', crosstalkOf, 3, { crosstalk: { good: crosstalkOf(supplied.circuit) + 3, look: 0 } }],
  ] as const)('offer for %s the next capacitor that does, and not the one before it', (what, read, by, limits) => {
    const context = boardContext(withLimits(supplied, limits));
    const { cause, next } = toldCauseOf(toldOf(context, what), context);
    // 3 dB are a ratio of 1.41: the next of E6 above 100 µF is 150 µF. The node sees 12 V: 16 V would leave no fifth in hand...
    expect(next).toBe('fit 150 µF, 16 V or more, plus to v, at C101');
    const better = read(circuitWithValue(supplied.circuit, 'C101', 150e-6)) - read(supplied.circuit);
    expect(Math.sign(by) * better).toBeGreaterThan(Math.abs(by));
    expect(cause).toMatch(/150 µF at C101 leaves [−\d.]+ dB$/);
  });

  it('say which values were asked where none serves', () => {
    const context = boardContext(withLimits(supplied, { hum: { good: -300, look: 0 } }));
    const { next } = toldCauseOf(toldOf(context, 'hum'), context);
    expect(next).toMatch(/^measure the ripple on vcc: no other preferred value of C101, .+ alone mends it$/);
  });
});

/** A coupling capacitor that starts from half the rail: 10 kΩ behind 1 µF lose 0.28 dB at 30 Hz re 1 kHz and settle in RC·ln(6 V / 10 mV). */
const coupled = monoBoard(
  `
  R1: { kind: resistor, value: 1 kΩ, between: [in, a] }
  R2: { kind: resistor, value: 1 kΩ, between: [vcc, a] }
  C1: { kind: capacitor, build: aluminium, value: 1 µF, plus: a, minus: out }
  R3: { kind: resistor, value: 10 kΩ, between: [out, gnd] }`,
  'rails: { vcc: { volts: 12 V } }',
);
/** The curve itself is of no interest here. */
const wide = mergeLimits(
  Object.fromEntries(
    ['deviation', 'treble', 'ultrasonic', 'subsonic_high', 'subsonic_low', 'input_resistance', 'balance'].map((key) => [
      key,
      { good: 99, look: 99 },
    ]),
  ),
);

describe('a dear figure', () => {
  const secondsOf = (farads: number): number =>
    valueOf(settleAnswer(stageOf(circuitWithValue(coupled.circuit, 'C1', farads)), { within: 0.01 })).channels[0]!
      .settleS!;

  it('is mended by the nearest value that serves', () => {
    // Bass is given up, settling is wanted: between what 0.33 and what 0.47 µF take.
    const limit = Math.sqrt(secondsOf(0.33e-6) * secondsOf(0.47e-6));
    const context = boardContext(
      withLimits(coupled, { ...wide, bass: { good: -99, look: -99 }, settle: { good: limit, look: 9 } }),
    );
    const figure = toldOf(context, 'settle');
    expect(levelOf(figure)).toBe('look');
    const { ref, cause, next } = toldCauseOf(figure, context);
    expect(ref).toBe('C1');
    expect(cause).toContain('the slowest time constant');
    expect(cause).toContain(`0.33 µF at C1 leaves ${secondsOf(0.33e-6).toFixed(1)} s`);
    expect(next).toBe('fit 0.33 µF, 10 V or more, plus to a, at C1');
  });

  it('keeps a remedy away that would take it over its limit', () => {
    const bass = { good: 0, look: -99 };
    const figureAt = (board: Board): ReturnType<typeof causeOf> => {
      const context = boardContext(board);
      return causeOf(figureOf(context, 'bass'), context);
    };
    const drawn = figureOf(boardContext(withLimits(coupled, wide)), 'bass').value;
    const strict = { ...wide, bass: { ...bass, good: drawn + 0.2 } };
    const free = figureAt(withLimits(coupled, strict));
    expect(free.next).toMatch(/^fit 1\.5 µF, .+ at C1$/);
    const limit = Math.sqrt(secondsOf(1e-6) * secondsOf(1.5e-6));
    const held = figureAt(withLimits(coupled, { ...strict, settle: { good: limit, look: 9 } }));
    expect(held.next).not.toContain('C1,');
    expect(held.cause).not.toContain('1.5 µF at C1');
  });

  it('that a swap makes is put down to the swap, and to what it leaves as drawn', () => {
    const follower = monoBoard(
      `
      R1: { kind: resistor, value: 10 kΩ, between: [in, p] }
      R2: { kind: resistor, value: 1 MΩ, between: [p, gnd] }
      U1: { type: OA, plus: p, minus: out, out: out }`,
      'types: { OA: { kind: opamp, en: 5 nV/√Hz } }',
    );
    const job = jobOn(
      { ...follower, limits: { ...wide, hiss: { good: 3e-6, look: 9e-6 } } },
      'R1: { fit: { value: 100 kΩ } }',
    );
    const finding = valueOf(checkJob(job)).findings.find(({ what, counts }) => what === 'hiss' && counts)!;
    expect(finding.level).toBe('look');
    expect(finding.ref).toBe('R1');
    expect(finding.cause).toMatch(/R1 \(100 kΩ for 10 kΩ\): as drawn it leaves [\d.]+ µV/);
  });
});
