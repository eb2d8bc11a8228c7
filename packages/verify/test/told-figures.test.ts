import { readFileSync } from 'node:fs';
import { readBoard } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { checkJob, crosstalkAnswer, humAnswer, levelOf } from '../src/index.ts';
import { mainValue } from '../src/part-value.ts';
import { toldCauseOf } from '../src/told-cause.ts';
import { boardContext, toldOf } from './board-context.ts';
import { idealAmplifier, jobOn, monoBoard, stereoBoard, valueOf } from './stages.ts';

const seed = (name: string): ReturnType<typeof monoBoard> =>
  valueOf(
    readBoard(
      readFileSync(new URL(`../../../seeds/boards/${name}.board.yaml`, import.meta.url), 'utf8'),
      `${name}.board.yaml`,
    ),
  );

describe.each(['lk205', 'lk310', 'lk417', 'lk520', 'lk630'])('the told figures of %s', (name) => {
  const context = boardContext(seed(name));
  const { stage } = context.probe;

  it('have the values of the answers that they speak of', () => {
    const [hum, crosstalk] = [humAnswer(stage), crosstalkAnswer(stage)];
    stage.circuit.channels.forEach((_, channel) => {
      // The same numbers by fewer solves: equal but for the order of a sum.
      expect(toldOf(context, 'hum', channel).value).toBeCloseTo(hum.channels[channel]!.humDb!, 10);
      const { crosstalkDb } = crosstalk.channels[channel]!;
      if (crosstalkDb === null) expect(() => toldOf(context, 'crosstalk', channel)).toThrow();
      else expect(toldOf(context, 'crosstalk', channel).value).toBe(crosstalkDb);
    });
  });

  it('each name one part of the board, of their own channel or shared', () => {
    for (const figure of context.told) {
      const { ref } = toldCauseOf(figure, { ...context, seekRemedy: false });
      const part = stage.circuit.parts.find((each) => each.ref === ref);
      expect(part, `${figure.what}: ${ref}`).toBeDefined();
      const channel = figure.channel === null ? null : stage.circuit.channels[figure.channel]!.name;
      if (channel !== null && part!.channel !== null) expect(part!.channel, figure.what).toBe(channel);
    }
  });
});

describe('a stage that swings by itself', () => {
  // The emitter capacitor of the second stage holds the bias loop of the first; without it the loop swings (computed).
  const answer = valueOf(checkJob(jobOn(seed('lk417'), 'C108: { pulled: { faults: [open_circuit] } }')));
  const finding = answer.findings.find(({ what, counts }) => what === 'stability' && counts)!;

  it('fails, and says which part made it so and what that leaves as drawn', () => {
    expect(answer.states.rebuilt!.stability).toMatchObject({ stable: false });
    expect(answer.states.drawn.stability).toMatchObject({ stable: true });
    expect(finding).toMatchObject({ level: 'fail', ref: 'C108', value: Infinity });
    expect(answer.verdict).toBe('fail');
    const leaves = `Q ${answer.states.drawn.stability!.q!.toFixed(2)}`;
    expect(finding.cause).toContain(`C108 (open circuit): as drawn it leaves ${leaves}`);
    expect(finding.next).toBe(`put C108 back as drawn: that leaves ${leaves}`);
  });
});

describe('an overload that is told to stay', () => {
  it('does so, and is not told to where the bias moves', () => {
    const context = boardContext(seed('lk417'));
    const { parts } = context.probe.stage.circuit;
    const overload = toldOf(context, 'overload');
    const varied = (ref: string, factor: number): NonNullable<ReturnType<typeof context.variants.withTwinsAt>> => {
      const part = parts.find((each) => each.ref === ref)!;
      return context.variants.withTwinsAt(part, factor * mainValue(part)!)!;
    };
    const leg = varied('C103', 1.5);
    expect(overload.stays!(leg)).toBe(true);
    // 0.1 dB of every gain, 1.2 %, is what it may move the drive of a part.
    expect(Math.abs(overload.search(leg) / overload.value - 1)).toBeLessThan(0.012);
    expect(overload.stays!(varied('R109', 1.1))).toBe(false);
  });
});

describe('a told figure', () => {
  const shared = `
    R101/R102: { kind: resistor, value: 1 kΩ, between: [in, out] }
    R103: { kind: resistor, value: 10 kΩ, between: [out@left, v] }
    R104: { kind: resistor, value: 5 kΩ, between: [out@right, v] }
    R105: { kind: resistor, value: 10 Ω, between: [v, gnd] }
    C101: { kind: capacitor, value: 1 µF, between: [v, gnd] }`;

  it('of crosstalk is read at the frequency of its limit', () => {
    const board = stereoBoard(shared, 'common: [v]\nlimits: { crosstalk: { at: 10 kHz } }');
    const figure = toldOf(boardContext(board), 'crosstalk', 1);
    const { points } = crosstalkAnswer(boardContext(board).probe.stage);
    expect(figure.value).toBe(points.find(({ hz, to }) => hz === 10_000 && to === 'right')!.db);
    expect(figure.where).toBe('at 10 kHz');
    // 10 Ω ∥ 1 µF: a corner at 15.9 kHz, so that 10 kHz differs from 1 kHz by 10 lg(1 + (10/15.9)²) = 1.4 dB.
    expect(figure.value - points.find(({ hz, to }) => hz === 1000 && to === 'right')!.db!).toBeGreaterThan(1);
  });

  it('of an overload that is nowhere is the most that was tried', () => {
    const board = monoBoard(
      `R1: { kind: resistor, value: 1 kΩ, between: [in, m] }
       R2: { kind: resistor, value: 10 kΩ, between: [m, out] }
       U1: { type: OA, plus: gnd, minus: m, out: out }`,
      idealAmplifier,
    );
    const context = boardContext(board);
    const figure = toldOf(context, 'overload');
    expect(context.further.headroom(context.probe)[0]!.overload[0]!.inputMv).toBeNull();
    expect(levelOf(figure)).toBe('good');
    expect(toldCauseOf(figure, context).cause).toMatch(/^no overload up to \d/);
    // No part bends: the part that moves the gain is named, and with it what the input has to stand.
    expect(['R1', 'R2']).toContain(toldCauseOf(figure, context).ref);
  });
});
