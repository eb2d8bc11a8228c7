import type { BipolarType, Circuit, Diagnostic, JfetType, Part, Place } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { compileNetwork, inspectCircuit, solveBias } from '../src/index.ts';
import { capacitor, circuit, inductor, rail, resistor, typed } from './circuits.ts';

const npn: BipolarType = { kind: 'npn', hFE: [{ value: 200, at: 0 }], VBE: { value: 0.6, at: 1e-3 } };
const fet: JfetType = { kind: 'jfet-n', IDSS: 5e-3, pinchOff: 1 };
const supply = rail('vcc', 12);

/** Gives each part the line it would stand on in a file, counted from 1. */
function onLines(parts: Part[]): Part[] {
  return parts.map((part, i) => ({ ...part, place: { file: 'test', line: i + 1, column: 3 } }));
}

/** Code and line of every finding. */
const found = (stage: Circuit): [Diagnostic['code'], number][] =>
  inspectCircuit(stage).map(({ code, place }) => [code, place.line]);

const message = (stage: Circuit): string => inspectCircuit(stage)[0]?.message ?? '';

/** A sound common-emitter stage, onto which the cases add a fault. */
const sound = [
  capacitor('C1', 1e-6, 'in', 'b'),
  resistor('R1', 100e3, 'vcc', 'b'),
  resistor('R2', 22e3, 'b', 'gnd'),
  resistor('R3', 4.7e3, 'vcc', 'c'),
  resistor('R4', 1e3, 'e', 'gnd'),
  typed('Q1', npn, { collector: 'c', base: 'b', emitter: 'e' }),
  capacitor('C2', 1e-6, 'c', 'out'),
  resistor('R5', 100e3, 'out', 'gnd'),
];
const stageWith = (...more: Part[]): Circuit => circuit([supply], onLines([...sound, ...more]));

/** Says nothing, and a bias is found. */
function expectSound(stage: Circuit): void {
  expect(inspectCircuit(stage)).toEqual([]);
  expect(solveBias(compileNetwork(stage)).ok).toBe(true);
}

it('has nothing to say of a sound stage', () => {
  expectSound(stageWith());
});

describe('a node that a single lead touches', () => {
  it('is reported once, by node and part, where the part stands', () => {
    const stage = stageWith(resistor('R6', 10e3, 'c', 'cc'));
    expect(found(stage)).toEqual([['floating-node', 9]]);
    expect(message(stage)).toContain('node cc is touched only by R6');
  });

  it('names the lead of a transistor', () => {
    const stage = stageWith(typed('Q2', npn, { collector: 'vcc', base: 'c', emitter: 'e2' }));
    expect(message(stage)).toContain('Q2 (emitter)');
  });

  it('is no fault on a rail, the input, the output or an unused throw of a switch', () => {
    const selector: Part = {
      ...resistor('S1', 0, 'gnd', 'gnd'),
      kind: 'switch',
      pole: 'b',
      positions: { low: 'e', high: 'nowhere' },
      at: 'low',
    };
    expect(found(circuit([supply, rail('vee', -12)], onLines([...sound, selector])))).toEqual([]);
  });
});

describe('a node without a DC path to gnd', () => {
  it('is the output behind a coupling capacitor with no load, and the remedy is the load', () => {
    const stage = circuit([supply], onLines(sound.filter(({ ref }) => ref !== 'R5')));
    expect(found(stage)).toEqual([['no-dc-path', 7]]);
    expect(message(stage)).toContain('node out (at C2 minus)');
    expect(message(stage)).toContain('write the load under output');
    expectSound({ ...stage, channels: stage.channels.map((one) => ({ ...one, load: { resistance: 47e3 } })) });
  });

  it('is not cured by a capacitive load, but by a leaking capacitor', () => {
    const parts = onLines(sound.filter(({ ref }) => ref !== 'R5'));
    expect(found(circuit([supply], parts, { load: { capacitance: 330e-12 } }))).toEqual([['no-dc-path', 7]]);
    const leaky = parts.map((part) => (part.ref === 'C2' ? { ...part, leakage: 1e6 } : part) as Part);
    expectSound(circuit([supply], leaky));
  });

  it('is a gate behind a capacitor only', () => {
    const parts = [
      capacitor('C1', 100e-9, 'in', 'g'),
      resistor('R1', 4.7e3, 'vcc', 'out'),
      resistor('R2', 1e3, 's', 'gnd'),
      typed('J1', fet, { drain: 'out', gate: 'g', source: 's' }),
    ];
    const stage = circuit([supply], onLines(parts));
    expect(found(stage)).toEqual([['no-dc-path', 1]]);
    expect(message(stage)).toContain('node g (at C1 minus)');
    expectSound(circuit([supply], [...parts, resistor('R3', 1e6, 'g', 'gnd')]));
  });

  it('is an op-amp input behind a capacitor only', () => {
    const parts = [
      capacitor('C1', 100e-9, 'in', 'p'),
      typed('U1', { kind: 'opamp' }, { plus: 'p', minus: 'out', out: 'out' }),
    ];
    expect(found(circuit([], onLines(parts)))).toEqual([['no-dc-path', 1]]);
    expectSound(circuit([], [...parts, resistor('R1', 47e3, 'p', 'gnd')]));
  });

  it('is reported for every node of an island', () => {
    const island = [
      capacitor('C6', 1e-6, 'c', 'i1'),
      resistor('R6', 1e3, 'i1', 'i2'),
      capacitor('C7', 1e-6, 'i2', 'gnd'),
    ];
    expect(found(stageWith(...island))).toEqual([
      ['no-dc-path', 9],
      ['no-dc-path', 10],
    ]);
  });

  it('is not the base inside a compound pair of transistors', () => {
    expectSound(
      stageWith(
        typed('Q2', npn, { collector: 'vcc', base: 'c', emitter: 'b3' }),
        typed('Q3', npn, { collector: 'vcc', base: 'b3', emitter: 'e3' }),
        resistor('R6', 1e3, 'e3', 'gnd'),
      ),
    );
  });

  it('is not the inner node of a string of diodes', () => {
    const silicon = { kind: 'diode', VF: [{ value: 0.65, at: 1e-3 }] } as const;
    expectSound(
      stageWith(
        resistor('R6', 10e3, 'vcc', 'd1'),
        typed('D1.1', silicon, { anode: 'd1', cathode: 'd2' }),
        typed('D1.2', silicon, { anode: 'd2', cathode: 'gnd' }),
      ),
    );
  });
});

describe('a loop without resistance', () => {
  const cases: readonly [string, readonly Part[]][] = [
    ['a zero-ohm link from rail to gnd', [resistor('R6', 0, 'vcc', 'gnd')]],
    ['a coil without resistance across a rail', [inductor('L1', 1e-3, 0, 'vcc', 'gnd')]],
    ['two links side by side', [resistor('R6', 0, 'c', 'c2'), resistor('R7', 0, 'c2', 'c')]],
    ['a short-circuited capacitor across a rail', [capacitor('C6', 1e-6, 'vcc', 'gnd', { leakage: 0 })]],
  ];
  for (const [what, parts] of cases) {
    it(`is ${what}`, () => {
      const stage = stageWith(...parts);
      expect(found(stage)).toEqual([['rail-loop', 8 + parts.length]]);
      const last = parts.at(-1)!;
      expect(message(stage)).toContain(last.ref);
    });
  }

  it('is two op-amps without output resistance on one node', () => {
    const buffer = (ref: string): Part => typed(ref, { kind: 'opamp' }, { plus: 'b', minus: 'o', out: 'o' });
    expect(found(stageWith(buffer('U1'), buffer('U2')))).toEqual([['rail-loop', 10]]);
  });

  it('is a trimmer turned to nothing across a rail, its wiper joined to an end or not', () => {
    const trimmer = (turn: number, wiper: string): Part => ({
      ...resistor('R6', 1e3, 'vcc', 'gnd'),
      kind: 'trimmer',
      turn,
      wiper,
    });
    expect(found(stageWith(trimmer(0, 'gnd')))).toEqual([['rail-loop', 9]]);
    expect(found(stageWith(trimmer(1, 'vcc')))).toEqual([['rail-loop', 9]]);
    for (const turn of [0, 0.3, 1]) expectSound(stageWith(trimmer(turn, 'tap'), resistor('R7', 1e3, 'tap', 'gnd')));
    // All of it is in use: the wiper's own end carries no current, at either stop.
    expectSound(stageWith(trimmer(1, 'gnd')));
    expectSound(stageWith(trimmer(0, 'vcc')));
  });

  it('is two supplies on one node, at the place of the rail', () => {
    const place: Place = { file: 'test', line: 40, column: 3 };
    const twice = circuit([supply, { ...rail('vcc', 11), place }], onLines(sound));
    expect(found(twice)).toEqual([['rail-loop', 40]]);
    expect(message(twice)).toContain('rail vcc');
    // Behind a resistance of its own the second one is a battery on charge, not a fault of the drawing.
    expect(found(circuit([supply, { ...rail('vcc', 11, 1), place }], onLines(sound)))).toEqual([]);
  });

  it('is not a coil with resistance, nor a coil between nodes of their own', () => {
    expectSound(
      stageWith(
        inductor('L1', 1e-3, 3, 'vcc', 'gnd'),
        inductor('L2', 1e-3, 0, 'c', 'l'),
        resistor('R6', 1e4, 'l', 'gnd'),
      ),
    );
  });
});

it('a network that slips past the inspection is refused by name', () => {
  // The output is a node that no part touches.
  const stray = { ...stageWith(), channels: [{ name: 'mono', input: 'in', output: 'stray', load: {} }] };
  const bias = solveBias(compileNetwork(stray));
  expect(bias.ok).toBe(false);
  if (!bias.ok) {
    expect(bias.diagnostic.code).toBe('no-bias');
    expect(bias.diagnostic.message).toContain('node stray');
  }
});
