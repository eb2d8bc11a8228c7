import type { Circuit, OpAmpType, Part } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { compileNetwork, naturalModes, solveBias } from '../src/index.ts';
import { capacitor, circuit, inductor, rail, resistor, typed } from './circuits.ts';
import { ladderPolynomial, newtonStep } from './exact-ladder.ts';
import { poleNear, qOf, rootsOf, sorted, worstRelative, modesOf } from './modes.ts';
import { drawsFrom } from './random.ts';
import { randomMixture, randomPassive } from './random-networks.ts';

/**
 * A closed form against a sharpened eigenvalue: rounding of the entries times the pole's own condition, which for these few parts is far under
 * 1e4. The line demanded of ladders is 1e-9.
 */
const closedForm = 1e-12;

const sections = 9;

/** λ of the ladder's matrix: 4 sin²((2k − 1)π / (2(2N + 1))), k = 1 … N, a source at one end and the other end open (textbook). */
const ladderEigenvalues = Array.from(
  { length: sections },
  (_, k) => 4 * Math.sin(((2 * k + 1) * Math.PI) / (2 * (2 * sections + 1))) ** 2,
);

/** N alike sections from `in` to `out`: `series` from node to node, `shunt` to gnd. */
function ladder(series: (n: number, a: string, b: string) => Part, shunt: (n: number, a: string) => Part[]): Part[] {
  const node = (n: number): string => (n === 0 ? 'in' : n === sections ? 'out' : `n${n}`);
  return Array.from({ length: sections }, (_, n) => [series(n, node(n), node(n + 1)), ...shunt(n, node(n + 1))]).flat();
}

describe('poles against closed forms', () => {
  it('of an RC ladder', () => {
    const [ohms, farads] = [4700, 33e-9];
    const parts = ladder(
      (n, a, b) => resistor(`R${n}`, ohms, a, b),
      (n, a) => [capacitor(`C${n}`, farads, a, 'gnd')],
    );
    const modes = modesOf(circuit([], parts));
    const expected = ladderEigenvalues.map((value) => ({ re: -value / (ohms * farads), im: 0 }));
    expect(worstRelative(modes.poles, expected)).toBeLessThan(closedForm);
  });

  it('of a lossy LC ladder, (R + sL)(G + sC) = −λ', () => {
    const [ohms, henries, siemens, farads] = [20, 10e-3, 2e-5, 22e-9];
    const parts = ladder(
      (n, a, b) => inductor(`L${n}`, henries, ohms, a, b),
      (n, a) => [capacitor(`C${n}`, farads, a, 'gnd', { leakage: 1 / siemens })],
    );
    const modes = modesOf(circuit([], parts));
    const expected = ladderEigenvalues.flatMap((value) =>
      rootsOf(henries * farads, ohms * farads + henries * siemens, ohms * siemens + value),
    );
    expect(worstRelative(modes.poles, expected)).toBeLessThan(closedForm);
  });

  it.each([
    ['ringing', 3],
    ['damped', 900],
  ])('of a series RLC, %s', (_, ohms) => {
    const [henries, farads] = [10e-3, 1e-6];
    const parts = [inductor('L1', henries, ohms, 'in', 'out'), capacitor('C1', farads, 'out', 'gnd')];
    const { poles } = modesOf(circuit([], parts));
    expect(worstRelative(poles, rootsOf(henries * farads, ohms * farads, 1))).toBeLessThan(closedForm);
  });

  it('of capacitors from 1 pF to 470 µF side by side, fourteen decades apart', () => {
    const values: readonly (readonly [number, number])[] = [
      [1, 1e-12],
      [10, 1e-9],
      [1e3, 1e-8],
      [1e6, 1e-6],
      [1e9, 1e-5],
      [5e5, 470e-6],
    ];
    const parts = values.flatMap(([ohms, farads], n) => [
      resistor(`R${n}`, ohms, 'in', n === 5 ? 'out' : `n${n}`),
      capacitor(`C${n}`, farads, n === 5 ? 'out' : `n${n}`, 'gnd'),
    ]);
    const expected = values.map(([ohms, farads]) => ({ re: -1 / (ohms * farads), im: 0 }));
    expect(worstRelative(modesOf(circuit([], parts)).poles, expected)).toBeLessThan(closedForm);
  });

  it('of a capacitor behind another of ten million times its size, with nothing but a leak to gnd', () => {
    // The island's own voltage leaks away through 50 GΩ and 1 pF; the rank of C hangs on that picofarad.
    const parts = [
      resistor('R1', 1e3, 'in', 'gnd'),
      capacitor('C1', 10e-6, 'a', 'out', { leakage: 1e6 }),
      capacitor('C2', 1e-12, 'out', 'gnd'),
      resistor('R2', 50e9, 'out', 'gnd'),
    ];
    const { poles } = modesOf(circuit([], parts));
    // C1 floats on one side: 1/(1 MΩ · 10 µF) and 1/(50 GΩ · 1 pF).
    const expected = [
      { re: -0.1, im: 0 },
      { re: -20, im: 0 },
    ];
    expect(worstRelative(poles, expected)).toBeLessThan(closedForm);
  });

  it('of two femtofarads bridged by 0.1 F: the common mode sees the femtofarads alone', () => {
    const [ohms, small, large] = [1e6, 1e-15, 0.1];
    const parts = [
      resistor('R1', ohms, 'in', 'a'),
      resistor('R2', ohms, 'out', 'gnd'),
      capacitor('C1', small, 'a', 'gnd'),
      capacitor('C2', small, 'out', 'gnd'),
      capacitor('C3', large, 'a', 'out'),
    ];
    const expected = [
      { re: -1 / (ohms * small), im: 0 },
      { re: -1 / (ohms * (small + 2 * large)), im: 0 },
    ];
    expect(worstRelative(modesOf(circuit([], parts)).poles, expected)).toBeLessThan(closedForm);
  });

  it('of an RC ladder of unlike sections, eighteen decades from the slowest to the fastest', () => {
    const values: readonly (readonly [number, number])[] = [
      [1, 1e-13],
      [10, 100e-6],
      [1e5, 1e-9],
      [3, 22e-6],
      [2e6, 5e-12],
      [50, 1e-6],
      [1e7, 4700e-6],
    ];
    const parts = values.flatMap(([ohms, farads], n) => [
      resistor(`R${n}`, ohms, n === 0 ? 'in' : `n${n}`, n === 6 ? 'out' : `n${n + 1}`),
      capacitor(`C${n}`, farads, n === 6 ? 'out' : `n${n + 1}`, 'gnd'),
    ]);
    const { poles } = modesOf(circuit([], parts));
    expect(poles).toHaveLength(7);
    expect(new Set(poles.map(({ re }) => re.toPrecision(3))).size).toBe(7);
    const polynomial = ladderPolynomial(values);
    // Every value of a ladder moves a pole by no more than its own error: a dozen roundings, some 1e-16 each.
    for (const { re } of poles) expect(Math.abs(newtonStep(polynomial, re) / re)).toBeLessThan(1e-14);
  });

  it('of an op-amp as follower: its GBW', () => {
    const type: OpAmpType = { kind: 'opamp', gain: 1e5, GBW: 4e6 };
    const parts = [resistor('R1', 1e4, 'in', 'gnd'), typed('U1', type, { plus: 'in', minus: 'out', out: 'out' })];
    const { poles } = modesOf(circuit([], parts));
    expect(worstRelative(poles, [{ re: -2 * Math.PI * 4e6 * (1 + 1e-5), im: 0 }])).toBeLessThan(closedForm);
  });

  it('of a loss factor: in series, right at 1 kHz', () => {
    const [farads, loss, ohms] = [1e-6, 0.1, 100];
    const parts = [resistor('R1', ohms, 'in', 'out'), capacitor('C1', farads, 'out', 'gnd', { loss, esr: 2 })];
    const inSeries = loss / (2 * Math.PI * 1000 * farads);
    const { poles } = modesOf(circuit([], parts));
    expect(worstRelative(poles, [{ re: -1 / ((ohms + 2 + inSeries) * farads), im: 0 }])).toBeLessThan(closedForm);
  });

  it('refuses a loss factor as an admittance: that has no poles', () => {
    const parts = [resistor('R1', 1e3, 'in', 'out'), capacitor('C1', 1e-6, 'out', 'gnd', { loss: 0.1 })];
    const network = compileNetwork(circuit([], parts));
    const bias = solveBias(network);
    expect(() => naturalModes(network, bias.ok ? bias.point : (undefined as never))).toThrow(/series/);
  });
});

describe('what holds a capacitor takes a pole away', () => {
  it.each([
    ['a capacitor across the source', [capacitor('C2', 1e-6, 'in', 'gnd')]],
    ['a capacitor across a rail', [capacitor('C2', 1e-6, 'vcc', 'gnd'), resistor('R2', 1e3, 'vcc', 'gnd')]],
    ['a loop of capacitors through the source', [capacitor('C2', 1e-6, 'in', 'out')]],
  ])('%s', (what, more) => {
    const parts = [resistor('R1', 1e3, 'in', 'out'), capacitor('C1', 1e-6, 'out', 'gnd'), ...more];
    const modes = modesOf(circuit([rail('vcc', 10)], parts));
    const farads = what.startsWith('a loop') ? 2e-6 : 1e-6;
    expect(worstRelative(modes.poles, [{ re: -1 / (1e3 * farads), im: 0 }])).toBeLessThan(closedForm);
    expect(modes.rank).toBe(2);
  });

  it('the output of an op-amp without resistance', () => {
    const type: OpAmpType = { kind: 'opamp', gain: 1e5, GBW: 4e6 };
    const parts = [
      resistor('R1', 1e4, 'in', 'gnd'),
      typed('U1', type, { plus: 'in', minus: 'out', out: 'out' }),
      capacitor('C1', 10e-9, 'out', 'gnd'),
    ];
    const modes = modesOf(circuit([], parts));
    expect([modes.rank, modes.poles.length]).toEqual([2, 1]);
  });
});

/** Two alike RC ladders of two sections, one for each channel, from rails without resistance or through one resistor both share. */
function twins(shared: number): Circuit {
  const parts = ['left', 'right'].flatMap((name, n) => {
    const at = (node: string): string => `${node}@${name}`;
    return [
      resistor(`R1${n}`, 1e4, at('in'), at('a')),
      capacitor(`C1${n}`, 1e-8, at('a'), 'gnd'),
      resistor(`R2${n}`, 2e4, at('a'), at('out')),
      capacitor(`C2${n}`, 3e-9, at('out'), 'vdd'),
    ];
  });
  const common = [resistor('R90', shared, 'vcc', 'vdd'), capacitor('C90', 1e-6, 'vdd', 'gnd')];
  const channels = ['left', 'right'].map((name) => ({ name, input: `in@${name}`, output: `out@${name}`, load: {} }));
  return circuit([rail('vcc', 10)], [...parts, ...common], { channels });
}

describe('two channels', () => {
  // C1, C2 and R1, R2 of one channel alone (vdd held): s²·R1C1·R2C2 + s·(R1C1 + R2C2 + R1C2) + 1 = 0.
  const alone = rootsOf(1e-4 * 6e-5, 1e-4 + 6e-5 + 3e-5, 1);

  it('have every pole twice where nothing is shared', () => {
    const { poles } = modesOf(twins(0));
    // The decoupler stands across the rail and has no pole.
    expect(worstRelative(poles, [...alone, ...alone])).toBeLessThan(closedForm);
  });

  it('share a double pole between two vectors, so that each channel moves its own half of it', () => {
    const { poles } = modesOf(twins(0));
    const single = modesOf({ ...twins(0), channels: twins(0).channels.slice(0, 1) }).poles;
    for (const { re } of alone) {
      const pair = poles.filter((pole) => Math.abs(pole.re / re - 1) < 1e-9);
      // The derivative of a pair's sum does not depend on how its vectors are mixed; the other channel leaves it alone.
      const sum = (ref: string): number => pair.reduce((total, pole) => total + pole.sensitivities.get(ref)!.re, 0);
      const own = single.find((pole) => Math.abs(pole.re / re - 1) < 1e-9)!.sensitivities.get('R10')!.re;
      expect(sum('R10')).toBeCloseTo(own, 9);
      expect(sum('R11')).toBeCloseTo(own, 9);
    }
  });

  it('have pairs of poles near each other where they share a supply, one of each pair as if it were alone', () => {
    const { poles } = modesOf(twins(100));
    expect(poles).toHaveLength(5);
    for (const { re } of alone) {
      const near = poles.filter((pole) => Math.abs(pole.re / re - 1) < 0.02);
      expect(near).toHaveLength(2);
      expect(Math.min(...near.map((pole) => Math.abs(pole.re / re - 1)))).toBeLessThan(closedForm);
    }
  });

  it('that split by less than one decomposition sees are told apart all the same', () => {
    // The shared milliohm splits each pair by some 1e-9 of it.
    const { poles } = modesOf(twins(1e-3));
    for (const { re } of alone) {
      const near = sorted(poles.filter((pole) => Math.abs(pole.re / re - 1) < 1e-4));
      expect(near).toHaveLength(2);
      expect(Math.abs(near[0]![0] - near[1]![0]) / Math.abs(re)).toBeGreaterThan(1e-11);
    }
  });
});

describe('zeros', () => {
  it('of a coupling capacitor lie at the origin, exactly', () => {
    const parts = [
      capacitor('C1', 1e-6, 'in', 'a'),
      resistor('R1', 1e4, 'a', 'gnd'),
      capacitor('C2', 1e-7, 'a', 'out'),
      resistor('R2', 1e5, 'out', 'gnd'),
    ];
    expect(modesOf(circuit([], parts)).zeros).toEqual([
      { channel: 'mono', zeros: [0, 0].map(() => ({ re: 0, im: 0, residual: 0 })) },
    ]);
  });

  it('of a low-pass are none', () => {
    const parts = [resistor('R1', 1e3, 'in', 'out'), capacitor('C1', 1e-6, 'out', 'gnd')];
    expect(modesOf(circuit([], parts)).zeros).toEqual([{ channel: 'mono', zeros: [] }]);
  });

  it('are none where two ways to the output cancel at every frequency', () => {
    const side = (n: number, node: string, end: string): Part[] => [
      resistor(`R${n}1`, 3.3e3, 'in', node),
      resistor(`R${n}2`, 47e3, node, end),
      capacitor(`C${n}`, 1.5e-9, node, end, { esr: 7 }),
    ];
    const parts = [
      ...side(1, 'm', 'out'),
      ...side(2, 'p', 'gnd'),
      typed('U1', { kind: 'opamp', GBW: 3e6 }, { plus: 'p', minus: 'm', out: 'out' }),
    ];
    expect(modesOf(circuit([], parts)).zeros).toEqual([{ channel: 'mono', zeros: [] }]);
  });

  it('of two alike lead networks behind one another are one zero twice', () => {
    const lead = (n: number, from: string, to: string): Part[] => [
      resistor(`R${n}1`, 1e4, from, to),
      capacitor(`C${n}`, 1e-8, from, to),
      resistor(`R${n}2`, 1e3, to, 'gnd'),
    ];
    const parts = [
      ...lead(1, 'in', 'a'),
      typed('U1', { kind: 'opamp' }, { plus: 'a', minus: 'b', out: 'b' }),
      ...lead(2, 'b', 'out'),
    ];
    const { zeros } = modesOf(circuit([], parts)).zeros[0]!;
    expect(zeros).toHaveLength(2);
    // Two roots with one vector stand as far off as the square root of rounding.
    for (const { re, im } of zeros) expect(Math.hypot(re / 1e4 + 1, im / 1e4)).toBeLessThan(1e-7);
  });

  it('of a twin-T lie on the axis at 1/RC', () => {
    const [ohms, farads] = [1e4, 1e-8];
    const parts = [
      resistor('R1', ohms, 'in', 'a'),
      resistor('R2', ohms, 'a', 'out'),
      capacitor('C3', 2 * farads, 'a', 'gnd'),
      capacitor('C1', farads, 'in', 'b'),
      capacitor('C2', farads, 'b', 'out'),
      resistor('R3', ohms / 2, 'b', 'gnd'),
    ];
    const { zeros } = modesOf(circuit([], parts)).zeros[0]!;
    const rate = 1 / (ohms * farads);
    const pair = zeros.filter(({ im }) => im !== 0);
    expect(pair).toHaveLength(2);
    for (const { re, im } of pair) {
      expect(Math.abs(re)).toBeLessThan(closedForm * rate);
      expect(Math.abs(Math.abs(im) / rate - 1)).toBeLessThan(closedForm);
    }
  });

  it('of the non-inverting equaliser are the published ones', () => {
    // S. P. Lipshitz, JAES 27(6), 1979: T1T3·s² + (T1 + T3 + A0·T2)·s + 1 + A0 = 0; the network's ratios re-derived. 40 dB at 1 kHz: A0 983.28.
    const [t1, t2, t3, a0, leg] = [3180e-6, 318e-6, 75e-6, 983.28, 470];
    const dc = a0 * leg;
    const first = (dc * (t1 - t2)) / (t1 - t3);
    const parts = [
      resistor('R1', 47e3, 'in', 'gnd'),
      typed('U1', { kind: 'opamp' }, { plus: 'in', minus: 'm', out: 'out' }),
      resistor('R2', leg, 'm', 'gnd'),
      resistor('R3', first, 'out', 'n'),
      capacitor('C3', t1 / first, 'out', 'n'),
      resistor('R4', dc - first, 'n', 'm'),
      capacitor('C4', t3 / (dc - first), 'n', 'm'),
    ];
    const { poles, zeros } = modesOf(circuit([], parts));
    expect(
      worstRelative(
        poles,
        [1 / t1, 1 / t3].map((rate) => ({ re: -rate, im: 0 })),
      ),
    ).toBeLessThan(closedForm);
    const expected = rootsOf(t1 * t3, t1 + t3 + a0 * t2, 1 + a0);
    expect(worstRelative(zeros[0]!.zeros, expected)).toBeLessThan(closedForm);
    // Published as 210.33 kHz, five digits.
    const far = Math.max(...zeros[0]!.zeros.map(({ re }) => Math.abs(re) / (2 * Math.PI)));
    expect(far / 210.33e3).toBeCloseTo(1, 4);
  });
});

describe('a phase-shift oscillator', () => {
  /** Three RC high-passes into an inverting stage of gain −K whose virtual earth ends the third (textbook: K = 29 at ω = 1/(√6·RC)). */
  const [ohms, farads] = [1e4, 1e-8];
  function oscillator(gain: number): Circuit {
    return circuit(
      [],
      [
        resistor('R9', 1e4, 'in', 'gnd'),
        typed('U1', { kind: 'opamp' }, { plus: 'gnd', minus: 'm', out: 'out' }),
        resistor('R4', gain * ohms, 'm', 'out'),
        capacitor('C1', farads, 'out', 'a'),
        resistor('R1', ohms, 'a', 'gnd'),
        capacitor('C2', farads, 'a', 'b'),
        resistor('R2', ohms, 'b', 'gnd'),
        capacitor('C3', farads, 'b', 'c'),
        resistor('R3', ohms, 'c', 'm'),
      ],
    );
  }
  const rate = 1 / (Math.sqrt(6) * ohms * farads);
  const pair = (gain: number): { re: number; im: number } => poleNear(modesOf(oscillator(gain)), rate / (2 * Math.PI));

  it('stands on the axis at a gain of 29', () => {
    const { re, im } = pair(29);
    expect(Math.abs(re)).toBeLessThan(closedForm * rate);
    expect(Math.abs(im) / rate).toBeCloseTo(1, 12);
  });

  it('dies away a millionth of a millionth below, and grows above', () => {
    // d Re s / d ln K is some 0.1 of the rate: 1e-9 of K moves it a hundred times what rounding does.
    expect(pair(29 * (1 - 1e-9)).re).toBeLessThan(0);
    expect(pair(29 * (1 + 1e-9)).re).toBeGreaterThan(0);
  });
});

describe('sensitivities', () => {
  it('are what a change of the value does', () => {
    const parts = (by: Record<string, number>): Part[] => {
      const of = (ref: string, value: number): number => value * (by[ref] ?? 1);
      return [
        resistor('R1', of('R1', 4.7e3), 'in', 'a'),
        capacitor('C1', of('C1', 10e-9), 'a', 'gnd', { esr: 5, leakage: 1e6 }),
        inductor('L1', of('L1', 50e-3), 30, 'a', 'b'),
        capacitor('C2', of('C2', 4.7e-9), 'b', 'gnd'),
        resistor('R2', of('R2', 22e3), 'b', 'm'),
        typed(
          'U1',
          { kind: 'opamp', gain: 1e4, GBW: of('U1', 2e5), Rout: 100 },
          { plus: 'gnd', minus: 'm', out: 'out' },
        ),
        resistor('R3', of('R3', 100e3), 'm', 'out'),
        capacitor('C3', of('C3', 100e-12), 'm', 'out'),
      ];
    };
    const before = modesOf(circuit([], parts({})));
    // A central difference of 1e-5 errs by 1e-10 of the second derivative, and by rounding over 1e-5.
    const step = 1e-5;
    for (const ref of ['R1', 'R2', 'R3', 'C1', 'C2', 'C3', 'L1', 'U1']) {
      const [up, down] = [1 + step, 1 - step].map((by) => modesOf(circuit([], parts({ [ref]: by }))));
      before.poles.forEach((pole, n) => {
        const [above, below] = [up!.poles[n]!, down!.poles[n]!];
        const [re, im] = [(above.re - below.re) / (2 * step), (above.im - below.im) / (2 * step)];
        const { re: sr, im: si } = pole.sensitivities.get(ref)!;
        const [er, ei] = [sr * pole.re - si * pole.im, sr * pole.im + si * pole.re];
        expect(Math.hypot(re - er, im - ei) / Math.hypot(pole.re, pole.im)).toBeLessThan(1e-7);
      });
    }
  });
});

describe('no pole is lost or found twice', () => {
  it('on 300 random networks of resistors, capacitors, inductors, junctions and transistors', () => {
    const draws = drawsFrom(20261125);
    let [count, worst, product, sum] = [0, 0, 0, 0];
    for (let n = 0; n < 300; n++) {
      const random = n % 2 === 0 ? randomPassive(draws) : randomMixture(draws);
      const network = compileNetwork(random, undefined, { loss: 'series' });
      const bias = solveBias(network);
      if (!bias.ok) continue;
      const modes = naturalModes(network, bias.point)!;
      expect(modes.poles.length).toBeLessThanOrEqual(modes.rank);
      // A pair comes with its conjugate, exactly.
      expect(modes.poles.reduce((total, { im }) => total + im, 0)).toBe(0);
      // Passive networks have no pole in the right half of the plane (textbook).
      if (n % 2 === 0) for (const { re } of modes.poles) expect(re).toBeLessThan(0);
      count += modes.poles.length;
      worst = Math.max(worst, ...modes.poles.map(({ residual }) => residual));
      product = Math.max(product, modes.logProductError);
      sum = Math.max(sum, modes.sumError);
    }
    console.log(
      `${count} poles: worst residual ${worst.toExponential(1)}, product ${product.toExponential(1)}, sum ${sum.toExponential(1)}`,
    );
    // A pole lost moves the logarithm of the product by its own, some 1 to 25; one found in another's stead by their ratio's.
    // The traces and determinants are those of the reduced pencil, whose rounding, some 1e-15, a pole's condition of up to 1e8 multiplies.
    expect(product).toBeLessThan(1e-6);
    expect(sum).toBeLessThan(1e-6);
    expect(worst).toBeLessThan(1e-6);
  });

  it('even where a circuit is critically damped and two poles are one', () => {
    const draws = drawsFrom(3);
    for (let n = 0; n < 100; n++) {
      const [henries, farads] = [draws.log(1e-5, 1), draws.log(1e-11, 1e-4)];
      const ohms = 2 * Math.sqrt(henries / farads);
      const parts = [inductor('L1', henries, ohms, 'in', 'out'), capacitor('C1', farads, 'out', 'gnd')];
      const { poles } = modesOf(circuit([], parts));
      const rate = ohms / (2 * henries);
      expect(poles).toHaveLength(2);
      // Two roots with one vector stand as far off as the square root of rounding.
      for (const { re, im } of poles) expect(Math.hypot(re / rate + 1, im / rate)).toBeLessThan(1e-7);
      expect(qOf(poles[0]!)).toBeCloseTo(0.5, 6);
    }
  });
});
