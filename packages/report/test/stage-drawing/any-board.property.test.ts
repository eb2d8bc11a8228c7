import { leadsOf, type Circuit } from '@curvewright/board';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stageScene } from '../../src/index.ts';
import { blemishes, netsOf, netsOfNodes } from './read-scene.ts';
import { boardOf } from './seed-boards.ts';

const types = `types:
  T-N: { kind: npn, hFE: 200, VBE: { value: 600 mV, at: 1 mA } }
  T-P: { kind: pnp, hFE: 200, VBE: { value: 600 mV, at: 1 mA } }
  T-D: { kind: diode, VF: [{ value: 0.6 V, at: 1 mA }, { value: 0.7 V, at: 10 mA }] }
  T-J: { kind: jfet-n, IDSS: 6 mA, VGS_off: -1 V }
  T-V: { kind: triode, mu: 100, rp: 62.5 kΩ, at: { Va: 250 V, Ia: 1.2 mA } }
  T-O: { kind: opamp, gain: 100 dB }
`;

const nodes = ['in', 'out', 'n1', 'n2', 'n3', 'n4', 'gnd', 'vcc', 'vee'];
const ends = fc.uniqueArray(fc.constantFrom(...nodes), { minLength: 4, maxLength: 4 });

type Written = (ref: number, leads: readonly string[]) => string;
const kinds: readonly Written[] = [
  (n, [a, b]) => `  R${n}: { kind: resistor, value: 1 kΩ, between: [${a}, ${b}] }`,
  (n, [a, b]) => `  R${n}: { kind: resistor, value: 33.2 kΩ, between: [${a}, ${b}] }`,
  (n, [a, b]) => `  C${n}: { kind: capacitor, value: 0.47 µF, plus: ${a}, minus: ${b} }`,
  (n, [a, b]) => `  C${n}: { kind: capacitor, value: 3.3 nF, between: [${a}, ${b}] }`,
  (n, [a, b]) => `  L${n}: { kind: inductor, value: 10 mH, resistance: 3 Ω, between: [${a}, ${b}] }`,
  (n, [a, b]) => `  D${n}: { type: T-D, anode: ${a}, cathode: ${b} }`,
  (n, [a, b, c]) => `  Q${n}: { type: T-N, collector: ${a}, base: ${b}, emitter: ${c} }`,
  (n, [a, b, c]) => `  Q${n}: { type: T-P, collector: ${a}, base: ${b}, emitter: ${c} }`,
  (n, [a, b, c]) => `  J${n}: { type: T-J, drain: ${a}, gate: ${b}, source: ${c} }`,
  (n, [a, b, c]) => `  V${n}: { type: T-V, anode: ${a}, grid: ${b}, cathode: ${c} }`,
  (n, [a, b, c]) => `  U${n}: { type: T-O, plus: ${a}, minus: ${b}, out: ${c}, rails: [vcc, vee] }`,
  (n, [a, b, c]) => `  R${n}: { kind: trimmer, value: 10 kΩ, turn: 40 %, between: [${a}, ${b}], wiper: ${c} }`,
  (n, [a, b, c]) => `  S${n}: { kind: switch, pole: ${a}, positions: { high: ${b}, low: ${c} }, at: low }`,
];

/** Any parts between any nodes: no board anybody would build, but each has to be drawn as it is. */
const circuit: fc.Arbitrary<Circuit> = fc
  .array(fc.tuple(fc.constantFrom(...kinds), ends), { minLength: 1, maxLength: 12 })
  .map((parts) => {
    const lines = [
      '  R101: { kind: resistor, value: 47 kΩ, between: [in, gnd] }',
      '  R102: { kind: resistor, value: 47 kΩ, between: [out, gnd] }',
      ...parts.map(([write, leads], n) => write(201 + n, leads)),
    ];
    return boardOf(
      [
        'board: 1',
        'title: any',
        'rails: { vcc: { volts: 15 V }, vee: { volts: -15 V } }',
        'input: { node: in }',
        'output: { node: out }',
        'parts:',
        ...lines,
        types,
      ].join('\n'),
    ).circuit;
  });

describe('the drawing of any board', () => {
  it('joins what the board joins, and nothing lies on anything else', () => {
    fc.assert(
      fc.property(circuit, (drawn) => {
        const volts = new Map(drawn.parts.flatMap((part) => Object.values(leadsOf(part)).map((node) => [node, 1.23])));
        const scene = stageScene(drawn, 'mono', { volts });
        expect(blemishes(scene)).toEqual([]);
        const ends = [
          { name: 'input terminal', node: 'in@mono' },
          { name: 'output terminal', node: 'out@mono' },
        ].filter(({ name }) => scene.marks.some(({ kind }) => name.startsWith(kind)));
        const leads = drawn.parts.flatMap((part) => [
          ...Object.entries(leadsOf(part)).map(([lead, node]) => ({ name: `${part.ref}.${lead}`, node })),
          ...(part.kind === 'typed' && part.rails
            ? ['rail above', 'rail below'].map((lead, n) => ({ name: `${part.ref}.${lead}`, node: part.rails![n]! }))
            : []),
        ]);
        expect(netsOf(scene)).toEqual(netsOfNodes([...leads, ...ends]));
      }),
      { seed: 20261125, numRuns: 60 },
    );
  }, 60_000);
});
