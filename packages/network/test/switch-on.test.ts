import { readFileSync } from 'node:fs';
import { readBoard, type Circuit } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { compileNetwork, solveBias, switchOn, type SwitchOn } from '../src/index.ts';
import { capacitor, circuit, inductor, rail, resistor, typed } from './circuits.ts';
import { drawsFrom } from './random.ts';
import { randomStage } from './random-stages.ts';
import { biased } from './solved.ts';

function switched(stage: Circuit, watched: readonly (readonly [string, string])[], ramp = 0.3): SwitchOn {
  const network = compileNetwork(stage, undefined, { loss: 'series' });
  const bias = solveBias(network);
  if (!bias.ok) throw new Error(bias.diagnostic.message);
  return switchOn(network, bias.point, { ramp, until: 3600, watched });
}

describe('switching on the seed boards', () => {
  for (const name of ['lk205', 'lk310', 'lk417', 'lk520', 'lk630']) {
    it(`${name} arrives at its bias`, () => {
      const file = new URL(`../../../seeds/boards/${name}.board.yaml`, import.meta.url);
      const board = readBoard(readFileSync(file, 'utf8'), name);
      if (!board.ok) throw new Error(board.diagnostics[0]!.message);
      const stage = board.value.circuit;
      // The bias of the network with dielectric losses, found from the devices' own start: it shares no step with the run.
      const { network, point } = biased(stage);
      const began = performance.now();
      const on = switched(stage, []);
      const { end, seconds, taken, rejected } = on.run;
      const ms = (performance.now() - began).toFixed(0);
      console.log(`${name}: ${ms} ms for ${seconds.toFixed(1)} s of the circuit, ${taken} steps, ${rejected} rejected`);
      expect(end.kind).toBe('visitor');
      stage.channels.forEach(({ output }, n) => {
        const last = on.outputs[n]!.volts.at(-1)!;
        expect(Math.abs(last - point.x[network.nodes.get(output)!]!)).toBeLessThan(1e-6);
      });
      expect(on.fromBias).toBeLessThanOrEqual(1e-6);
    });
  }
});

describe('switching on random sane stages', () => {
  it('arrives at the bias of each of 60', { timeout: 60_000 }, () => {
    let longest = 0;
    for (let n = 0; n < 60; n++) {
      const { circuit: stage, what } = randomStage(drawsFrom(20261125 + n));
      const { run } = switched(stage, []);
      expect(run.end.kind, `stage ${n}, ${what}`).toBe('visitor');
      longest = Math.max(longest, run.taken + run.rejected);
    }
    console.log(`60 random stages: all arrive, in ${longest} steps at most`);
  });
});

describe('what is seen on the way', () => {
  /** Equal capacitors share the quick rise equally; their leakages then share 11 V as 10 to 1. */
  const divider = circuit(
    [rail('vcc', 11)],
    [capacitor('C1', 1e-6, 'vcc', 'out', { leakage: 1e6 }), capacitor('C2', 1e-6, 'out', 'gnd', { leakage: 100e3 })],
  );
  const pairs = [
    ['vcc', 'out'],
    ['out', 'gnd'],
    ['gnd', 'out'],
  ] as const;

  it('a capacitor holds 5.5 V on the way to 1 V', () => {
    const on = switched(divider, pairs, 1e-3);
    const tau = 2e-6 / (1 / 1e6 + 1 / 100e3);
    // v2 obeys 2C·dv/dt = C·s + (11·t/T)/R1 − v/R, s the slope: during the rise its end value is that of the ramp response.
    const slope = 11 / 1e-3;
    const parallel = 1 / (1 / 1e6 + 1 / 100e3);
    const particular = (t: number): number => slope * (parallel / 1e6) * (t - tau) + slope * 1e-6 * parallel;
    const peak = particular(1e-3) - particular(0) * Math.exp(-1e-3 / tau);
    // The tolerance of a step, 2 µV + 1e-6 of 5.5 V, a few times over.
    expect(Math.abs(on.swings[1]!.highest - peak)).toBeLessThan(5e-5);
    expect(on.swings[1]!.lowest).toBe(0);
    // And the other one never more than it ends with; 1 µV is what the end is held to.
    expect(Math.abs(on.swings[0]!.highest - 10)).toBeLessThan(2e-6);
    expect(on.swings[2]!.lowest).toBe(-on.swings[1]!.highest);
  });

  it('a peak is not missed between two steps', () => {
    const [ohms, henries, farads, ramp] = [20, 10e-3, 1e-6, 1e-6];
    const ringing = circuit(
      [rail('vcc', 1)],
      [
        inductor('L1', henries, ohms, 'vcc', 'out'),
        capacitor('C1', farads, 'out', 'gnd'),
        resistor('R1', 1e12, 'out', 'gnd'),
      ],
    );
    const alpha = ohms / (2 * henries);
    const omega = Math.sqrt(1 / (henries * farads) - alpha ** 2);
    const overshoot = switched(ringing, [['out', 'gnd']], ramp).swings[0]!.highest - 1;
    const exact = Math.exp((-Math.PI * alpha) / omega);
    console.log(`overshoot ${overshoot.toFixed(6)}, exact ${exact.toFixed(6)}`);
    // The first half swing takes some 60 steps of up to 4 µV each, which add up to no more than a tenth as the phase turns; the ramp of 1 µs, 0.01 rad, takes 4e-6.
    expect(Math.abs(overshoot - exact)).toBeLessThan(3e-5);
  });

  it('an op-amp whose supplies still lie within its limits stands between them', () => {
    const amplifier = { kind: 'opamp', gain: 1e5, GBW: 8e6, swing: { above: 1.5, below: 0.2 } } as const;
    const follower = circuit(
      [rail('vcc', 15), rail('vee', -15)],
      [
        resistor('R1', 10e3, 'in', 'gnd'),
        typed('U1', amplifier, { plus: 'in', minus: 'out', out: 'out' }, ['vcc', 'vee']),
        resistor('R2', 10e3, 'out', 'gnd'),
      ],
    );
    const on = switched(follower, [['out', 'gnd']]);
    expect(on.run.end.kind).toBe('visitor');
    // 1.25 mV is what the rounded corners of limits that meet can leave; a nanovolt for its solving.
    expect(on.swings[0]!.highest).toBeLessThan(1.25e-3 + 1e-9);
    expect(on.swings[0]!.lowest).toBeGreaterThan(-1.25e-3 - 1e-9);
  });

  it('does without waiting where nothing can be stored', () => {
    const on = switched(
      circuit([rail('vcc', 9)], [resistor('R1', 1e3, 'vcc', 'out')], { load: { resistance: 2e3 } }),
      [],
    );
    expect(on.run.seconds).toBe(0.3);
    // One rounding of 6 V.
    expect(Math.abs(on.outputs[0]!.volts.at(-1)! - 6)).toBeLessThan(2e-15);
  });
});
