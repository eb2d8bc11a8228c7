import { describe, expect, it } from 'vitest';
import { noiseAnswer } from '../src/index.ts';
import { monoBoard, stageOf } from './stages.ts';

/** The figures named for one part of a type, on a board that gives it a bias of some kind. */
function silentFor(type: string, leads: string): readonly string[] {
  const board = monoBoard(
    `R1: { kind: resistor, value: 10 kΩ, noise_index: -20 dB, between: [vcc, out] }
     R2: { kind: resistor, value: 1 kΩ, noise_index: -20 dB, between: [in, b] }
     R3: { kind: resistor, value: 1 kΩ, noise_index: -20 dB, between: [e, gnd] }
     R4: { kind: resistor, value: 1 kΩ, noise_index: -20 dB, between: [b, gnd] }
     X1: { type: XX, ${leads} }`,
    `rails: { vcc: { volts: 20 V } }\ntypes: { XX: { ${type} } }`,
  );
  return noiseAnswer(stageOf(board.circuit)).ideal.map(({ figure, refs }) => `${figure}: ${refs.join(' ')}`);
}

const bipolar = 'kind: npn, hFE: 300, VBE: { value: 0.6 V, at: 1 mA }';
const base = 'collector: out, base: b, emitter: e';
const jfet = 'kind: jfet-n, IDSS: 6 mA, VGS_off: -1 V';
const gate = 'drain: out, gate: b, source: e';
const opAmp = 'plus: b, minus: e, out: e';

describe('what a file is silent about', () => {
  it.each([
    ['a bipolar', bipolar, base, ['no rbb: X1', 'no 1/f noise: X1']],
    ['a bipolar with all', `${bipolar}, rbb: 100 Ω, noise_corner: 1 kHz`, base, []],
    ['a JFET', jfet, gate, ['en as the channel alone makes it: X1', 'no 1/f noise: X1']],
    ['a JFET with all', `${jfet}, en: 2 nV/√Hz, en_corner: 100 Hz`, gate, []],
    ['an op-amp', 'kind: opamp', opAmp, ['no en: X1', 'no in: X1']],
    [
      'an op-amp without corners',
      'kind: opamp, en: 4 nV/√Hz, in: 1 pA/√Hz',
      opAmp,
      ['no 1/f noise of en: X1', 'no 1/f noise of in: X1'],
    ],
    ['an op-amp with all', 'kind: opamp, en: 4 nV/√Hz, in: 1 pA/√Hz, en_corner: 10 Hz, in_corner: 20 Hz', opAmp, []],
    [
      'a triode',
      'kind: triode, mu: 20, rp: 8 kΩ, at: { Va: 100 V, Ia: 5 mA }',
      'anode: out, grid: b, cathode: e',
      ['en of the anode current alone: X1', 'no 1/f noise: X1'],
    ],
    ['a diode', 'kind: diode, VF: [{ value: 0.6 V, at: 1 mA }]', 'anode: out, cathode: e', ['no 1/f noise: X1']],
    ['a zener', 'kind: zener, VZ: { value: 5.6 V, at: 5 mA }', 'anode: e, cathode: out', ['no avalanche noise: X1']],
  ])('of %s', (_, type, leads, expected) => {
    expect(silentFor(type, leads)).toEqual(expected);
  });

  it('names the resistors without an index', () => {
    const board = monoBoard('R1: { kind: resistor, value: 10 kΩ, between: [in, out] }');
    expect(noiseAnswer(stageOf(board.circuit)).ideal).toEqual([{ figure: 'no excess noise', refs: ['R1'] }]);
  });
});
