import type { BipolarType, Circuit, Part } from '@curvewright/board';
import { deviceOf } from '@curvewright/devices';
import { describe, expect, it } from 'vitest';
import { middle } from '../src/time-step.ts';
import { nodeVolts } from '../src/index.ts';
import { capacitor, circuit, inductor, rail, resistor, typed } from './circuits.ts';
import { runCircuit, stepperFor, tight, voltsAt } from './in-time.ts';
import { biased } from './solved.ts';

const oneVolt = { vcc: () => 1 };

/** Largest distance of node `out` from a closed form over a run, at every step's middle and end. */
function worstAgainst(parts: Part[], until: number, exact: (seconds: number) => number, relative = 1e-6): number {
  let worst = 0;
  const tolerance = { ...tight, relative };
  const run = runCircuit(
    circuit([rail('vcc', 1)], parts),
    oneVolt,
    { until, tolerance },
    ({ from, to, middle: x, end }, network) => {
      const inner = from + middle * (to - from);
      worst = Math.max(
        worst,
        Math.abs(voltsAt(network, x, 'out') - exact(inner)),
        Math.abs(voltsAt(network, end, 'out') - exact(to)),
      );
    },
  );
  expect(run.end.kind).toBe('until');
  return worst;
}

describe('steps of a voltage against closed forms', () => {
  const rc = [resistor('R1', 10e3, 'vcc', 'out'), capacitor('C1', 100e-9, 'out', 'gnd')];

  // A step may be 2 µV wrong and is forgotten with the time constant, into which some 20 of them fall.
  it('RC: within 40 µV of 1 − e^(−t/RC)', () => {
    const worst = worstAgainst(rc, 10e-3, (t) => 1 - Math.exp(-t / 1e-3));
    console.log(`RC step: ${worst.toExponential(1)} V from the closed form`);
    expect(worst).toBeLessThan(4e-5);
  });

  it('series RLC, damped to 0.1 of critical: within 500 µV of its ringing', () => {
    const [ohms, henries, farads] = [20, 10e-3, 1e-6];
    const alpha = ohms / (2 * henries);
    const omega = Math.sqrt(1 / (henries * farads) - alpha ** 2);
    const exact = (t: number): number =>
      1 - Math.exp(-alpha * t) * (Math.cos(omega * t) + (alpha / omega) * Math.sin(omega * t));
    const parts = [
      inductor('L1', henries, ohms, 'vcc', 'out'),
      capacitor('C1', farads, 'out', 'gnd'),
      resistor('R1', 1e9, 'out', 'gnd'),
    ];
    // 1 ms of memory holds some 200 steps of up to 2 µV each, all of one sign in the phase: 0.4 mV.
    const worst = worstAgainst(parts, 10e-3, exact);
    console.log(`RLC step: ${worst.toExponential(1)} V from the closed form`);
    expect(worst).toBeLessThan(5e-4);
  });

  it('RL alone: within 40 µV, held by the flux of the inductor', () => {
    const parts = [resistor('R1', 100, 'vcc', 'out'), inductor('L1', 0.1, 0, 'out', 'gnd')];
    // A step may be 1e-6 of 10 mA wrong, which is 1 µV over the resistor; then as for RC.
    expect(worstAgainst(parts, 10e-3, (t) => Math.exp(-t / 1e-3))).toBeLessThan(4e-5);
  });

  it("a transistor's own charge alone: within 40 µV", () => {
    const off: BipolarType = {
      kind: 'pnp',
      hFE: [{ value: 100, at: 0 }],
      VBE: { value: 0.65, at: 1e-3 },
      Cob: 4e-12,
      Cib: 6e-12,
    };
    const parts = [
      resistor('R1', 1e6, 'vcc', 'out'),
      typed('Q1', off, { collector: 'gnd', base: 'out', emitter: 'gnd' }),
    ];
    // 1 MΩ charges Cob and Cib side by side; what leaks through both junctions in reverse, some 1e-14 A, makes 1e-8 V.
    expect(worstAgainst(parts, 100e-6, (t) => 1 - Math.exp(-t / 10e-6))).toBeLessThan(4e-5);
  });

  it('a tighter tolerance is kept', () => {
    const exact = (t: number): number => 1 - Math.exp(-t / 1e-3);
    const [loose, strict] = [1e-4, 1e-6].map((relative) => worstAgainst(rc, 10e-3, exact, relative));
    // A local error 100 times smaller takes steps 4.6 times shorter, whose second-order global error is 21 times smaller; half of it for luck.
    expect(loose! / strict!).toBeGreaterThan(10);
  });
});

describe('the order of a step', () => {
  // Raised cosines start at rest, so that nothing but the step's own error counts.
  const drive = { vcc: (t: number): number => 1 - Math.cos(2 * Math.PI * 200 * t) };

  function errorWith(steps: number, stage: Circuit, reference: number): number {
    return Math.abs(endWith(steps, stage) - reference);
  }

  function endWith(steps: number, stage: Circuit): number {
    const { network, stepper } = stepperFor(stage, drive);
    for (let n = 1; n <= steps; n++) {
      expect(stepper.attempt((3e-3 * n) / steps).kind).toBe('solved');
      stepper.accept();
    }
    return voltsAt(network, stepper.x, 'out');
  }

  it('is two, for a linear network and for a diode', () => {
    const linear = circuit(
      [rail('vcc', 1)],
      [resistor('R1', 10e3, 'vcc', 'out'), capacitor('C1', 100e-9, 'out', 'gnd')],
    );
    const bent = circuit(
      [rail('vcc', 1)],
      [
        resistor('R1', 1e3, 'vcc', 'a'),
        typed('D1', { kind: 'diode', VF: [{ value: 0.6, at: 1e-3 }] }, { anode: 'a', cathode: 'out' }),
        resistor('R2', 10e3, 'out', 'gnd'),
        capacitor('C1', 100e-9, 'out', 'gnd'),
      ],
    );
    for (const stage of [linear, bent]) {
      const reference = endWith(12_800, stage);
      const order = Math.log2(errorWith(400, stage, reference) / errorWith(800, stage, reference));
      console.log(`order of convergence: ${order.toFixed(3)}`);
      // Third-order terms at 400 steps, and the reference's own error of 1/256.
      expect(Math.abs(order - 2)).toBeLessThan(0.1);
    }
  });
});

describe('stiffness', () => {
  it('passes 1 ns beside 10 s without trouble', () => {
    const parts = [
      resistor('R1', 1e6, 'vcc', 'out'),
      capacitor('C1', 10e-6, 'out', 'gnd'),
      resistor('R2', 1e3, 'out', 'quick'),
      capacitor('C2', 1e-12, 'quick', 'gnd'),
    ];
    let end = NaN;
    const run = runCircuit(circuit([rail('vcc', 1)], parts), oneVolt, { until: 50 }, (step, network) => {
      end = voltsAt(network, step.end, 'quick');
    });
    expect(run.end.kind).toBe('until');
    console.log(`1 ns beside 10 s: ${run.taken} steps, ${run.rejected} rejected`);
    // About 2,000 would follow the slow one alone at 2 µV a step with a first-order method; one step a ns would take 5e10.
    expect(run.taken + run.rejected).toBeLessThan(1000);
    // As for the RC step; the small capacitor and its resistor add 1e-7 to the time constant.
    expect(Math.abs(end - (1 - Math.exp(-5)))).toBeLessThan(4e-5);
  });

  it('a capacitor straight across a source takes C·dV/dt from it', () => {
    const stage = circuit([rail('vcc', 1)], [capacitor('C1', 1e-6, 'vcc', 'gnd'), resistor('R1', 1e3, 'vcc', 'out')], {
      load: { resistance: 1e3 },
    });
    const ramp = { vcc: (t: number): number => t / 1e-3 };
    let amps = NaN;
    runCircuit(stage, ramp, { until: 1e-3 }, ({ end }, network) => {
      amps = -end[network.branches.find(({ ref }) => ref === 'vcc')!.current]!;
    });
    // 1 mA into 1 µF at 1 V/ms, and 1 V over 2 kΩ; the quotient of charges a step apart rounds at 1e-16·C·V over C·V/1000.
    expect(Math.abs(amps - 1.5e-3)).toBeLessThan(1e-12);
  });
});

describe('energy', () => {
  it('what the source delivers is what is stored and what is burnt', () => {
    const diode = { kind: 'diode', VF: [{ value: 0.6, at: 1e-3 }] } as const;
    const device = deviceOf(diode, 298.15);
    const parts = [
      inductor('L1', 10e-3, 5, 'vcc', 'a'),
      capacitor('C1', 1e-6, 'a', 'gnd'),
      typed('D1', diode, { anode: 'a', cathode: 'b' }),
      capacitor('C2', 2.2e-6, 'b', 'out'),
      resistor('R1', 220, 'out', 'gnd'),
      resistor('R2', 4700, 'b', 'gnd'),
    ];
    let [delivered, burnt, stored] = [0, 0, 0];
    const tolerance = { relative: 1e-7, volts: 1e-7, amps: 1e-10 };
    const volts = (t: number): number => 5 * Math.min(1, t / 1e-3);
    runCircuit(
      circuit([rail('vcc', 5)], parts),
      { vcc: volts },
      { until: 20e-3, corners: [1e-3], tolerance },
      (step, network) => {
        const current = (ref: string): number => network.branches.find((branch) => branch.ref === ref)!.current;
        const powers = [step.start, step.middle, step.end].map((x) => {
          const [a, b, out] = ['a', 'b', 'out'].map((node) => voltsAt(network, x, node)) as [number, number, number];
          const amps = x[current('L1')]!;
          const through = new Float64Array(2);
          device.evaluate(Float64Array.of(a - b), through, new Float64Array(2));
          stored = 0.5 * (10e-3 * amps ** 2 + 1e-6 * a ** 2 + 2.2e-6 * (b - out) ** 2);
          return [
            -x[current('vcc')]! * voltsAt(network, x, 'vcc'),
            5 * amps ** 2 + (a - b) * through[0]! + out ** 2 / 220 + b ** 2 / 4700,
          ] as const;
        });
        const over = (k: 0 | 1): number => (step.to - step.from) * meanOf(powers[0]![k], powers[1]![k], powers[2]![k]);
        delivered += over(0);
        burnt += over(1);
      },
    );
    const missing = Math.abs(delivered - stored - burnt) / delivered;
    console.log(`energy: ${(delivered * 1e6).toFixed(3)} µJ delivered, ${missing.toExponential(1)} of it missing`);
    // Each of some thousand steps may miss 1e-7 of its charges, partly in turns.
    expect(missing).toBeLessThan(1e-5);
    // Something of each kind is there to be balanced.
    expect(stored / delivered).toBeGreaterThan(0.1);
    expect(burnt / delivered).toBeGreaterThan(0.1);
  });

  /** The mean of the parabola through the three instants of a step. */
  function meanOf(first: number, inner: number, last: number): number {
    const q = (inner - first - middle * (last - first)) / (middle * (middle - 1));
    return first + (last - first - q) / 2 + q / 3;
  }
});

describe('a transistor as a switch', () => {
  const type: BipolarType = {
    kind: 'npn',
    hFE: [{ value: 100, at: 0 }],
    VBE: { value: 0.65, at: 1e-3 },
    fT: { value: 100e6, at: 10e-3 },
    Cob: 3e-12,
    Cib: 8e-12,
  };

  it('saturates, stores its charge, and lets the load charge its capacitor', () => {
    const stage = circuit(
      [rail('vcc', 5), rail('pulse', 5)],
      [
        resistor('R1', 10e3, 'pulse', 'b'),
        typed('Q1', type, { collector: 'out', base: 'b', emitter: 'gnd' }),
        resistor('R2', 1e3, 'vcc', 'out'),
        capacitor('C1', 10e-9, 'out', 'gnd'),
      ],
    );
    const [on, off, edge] = [20e-6, 120e-6, 10e-9];
    const pulse = (t: number): number => 5 * Math.max(0, Math.min(1, (t - on) / edge, (off + edge - t) / edge));
    const drives = { vcc: (t: number): number => 5 * Math.min(1, t / 1e-6), pulse };
    const trace: [number, number][] = [];
    const corners = [1e-6, on, on + edge, off, off + edge];
    const run = runCircuit(stage, drives, { until: 300e-6, corners }, ({ to, end }, network) => {
      trace.push([to, voltsAt(network, end, 'out')]);
    });
    expect(run.end.kind).toBe('until');
    const at = (seconds: number): number => trace.findLast(([t]) => t <= seconds * (1 + 1e-12))![1];
    const risingThrough = (volts: number): number => {
      const n = trace.findIndex(([t, v]) => t > off && v >= volts);
      const [[t0, v0], [t1, v1]] = [trace[n - 1]!, trace[n]!];
      return t0 + ((t1 - t0) * (volts - v0)) / (v1 - v0);
    };
    // Twice RC after the rail stands: 5 V less e^−1.9 of it, the ramp's half µs included; then hard on: a saturated part of this gain holds tenths of a volt at most.
    expect(at(on)).toBeGreaterThan(5 * (1 - Math.exp(-1.9)));
    expect(at(off)).toBeLessThan(0.2);
    // The charge τ·hFE·IB holds it on a while after its base drive has gone, the more so as 4 mA less than 43 mA of what the base asks for flow.
    expect(risingThrough(0.5) - off).toBeGreaterThan(50e-9);
    // Once it is off, R2 charges C1 and Cob: ln 9 of RC from 10 % to 90 %, straight lines between the steps to 1e-3 of it.
    const rise = risingThrough(4.5) - risingThrough(0.5);
    expect(Math.abs(rise / (Math.log(9) * 1e3 * 10.003e-9) - 1)).toBeLessThan(2e-3);
  });
});

describe('a circuit without capacitance', () => {
  it('jumps from one state to the other where the first one ends', () => {
    const ideal: BipolarType = { kind: 'npn', hFE: [{ value: 100, at: 0 }], VBE: { value: 0.65, at: 1e-3 } };
    /** Q2 conducts until the base of Q1 is pulled above the emitters that they share. */
    const latch = (set: number): Circuit =>
      circuit(
        [rail('vcc', 10), rail('set', set)],
        [
          resistor('R1', 10e3, 'set', 'b1'),
          typed('Q1', ideal, { collector: 'c1', base: 'b1', emitter: 'e' }),
          resistor('R2', 10e3, 'vcc', 'c1'),
          resistor('R3', 10e3, 'c1', 'b2'),
          resistor('R4', 100e3, 'b2', 'gnd'),
          typed('Q2', ideal, { collector: 'out', base: 'b2', emitter: 'e' }),
          resistor('R5', 3e3, 'vcc', 'out'),
          resistor('R6', 1e3, 'e', 'gnd'),
        ],
      );
    const drives = { vcc: (t: number): number => Math.min(10, 100 * t), set: (t: number): number => 5 * t };
    const outs: number[] = [];
    const run = runCircuit(latch(5), drives, { until: 1, corners: [0.1, 0.2] }, (step, network) => {
      if (step.to === 0.2 || step.to === 1) outs.push(voltsAt(network, step.end, 'out'));
    });
    expect(run.end.kind).toBe('until');
    [1, 5].forEach((set, n) => {
      const { network, point } = biased(latch(set));
      // Newton's last step is held to 1e-3 of 1 µV + 1e-6 of the voltage, and the next would be far smaller.
      expect(Math.abs(outs[n]! - nodeVolts(network, point, 'out'))).toBeLessThan(1e-8);
    });
    expect(outs[1]! - outs[0]!).toBeGreaterThan(5);
  });
});

describe('a run that cannot go on', () => {
  it('says when and at which part, and throws nothing', () => {
    const stage = circuit(
      [rail('vcc', 1)],
      [
        resistor('R1', 1e3, 'vcc', 'out'),
        typed('U1', { kind: 'opamp' }, { plus: 'gnd', minus: 'gnd', out: 'out' }),
        capacitor('C1', 1e-6, 'vcc', 'gnd'),
      ],
    );
    const run = runCircuit(stage, oneVolt, { until: 1 }, () => undefined);
    expect(run.end).toEqual({ kind: 'stuck', where: 'the current of U1' });
    expect(run.seconds).toBe(0);
    expect(run.taken).toBe(0);
  });

  it('ends when its steps are used up', () => {
    const ringing = circuit(
      [rail('vcc', 1)],
      [inductor('L1', 1e-3, 0, 'vcc', 'out'), capacitor('C1', 1e-9, 'out', 'gnd'), resistor('R1', 1e9, 'out', 'gnd')],
    );
    const run = runCircuit(ringing, oneVolt, { until: 1, budget: 500 }, () => undefined);
    expect(run.end.kind).toBe('budget');
    expect(run.taken + run.rejected).toBe(500);
  });
});
