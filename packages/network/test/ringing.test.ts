import type { Circuit } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { compileNetwork, solveBias, switchOn } from '../src/index.ts';
import { capacitor, circuit, inductor, rail, resistor, typed } from './circuits.ts';
import { modesOf, qOf } from './modes.ts';

/** rad/s and 1/s of how the output rings after switch-on: from its crossings of the settled value and the peaks between them. */
function ringing(ringer: Circuit): { omega: number; decay: number } {
  const network = compileNetwork(ringer, undefined, { loss: 'series' });
  const bias = solveBias(network);
  if (!bias.ok) throw new Error(bias.diagnostic.message);
  const settled = bias.point.x[network.nodes.get('out')!]!;
  const on = switchOn(network, bias.point, { ramp: 1e-6, until: 1, watched: [] });
  const { seconds, volts } = on.outputs[0]!;
  const crossings: number[] = [];
  const peaks: number[] = [];
  let peak = 0;
  for (let n = 1; n < volts.length; n++) {
    const [before, after] = [volts[n - 1]! - settled, volts[n]! - settled];
    peak = Math.max(peak, Math.abs(after));
    if (before < 0 === after < 0) continue;
    crossings.push(seconds[n - 1]! + ((seconds[n]! - seconds[n - 1]!) * before) / (before - after));
    peaks.push(peak);
    peak = 0;
  }
  // The first swing is the ramp's and the last ones are lost in the tolerance of the run.
  const [from, to] = [2, 10];
  const time = crossings[to]! - crossings[from]!;
  return { omega: ((to - from) * Math.PI) / time, decay: Math.log(peaks[from]! / peaks[to]!) / time };
}

describe('a pair of poles is how the circuit rings in time', () => {
  it.each<[string, Circuit]>([
    [
      'a coil and a capacitor with a loss factor',
      circuit(
        [rail('vcc', 5)],
        [
          resistor('R9', 1e3, 'in', 'gnd'),
          resistor('R1', 10, 'vcc', 'a'),
          inductor('L1', 10e-3, 5, 'a', 'out'),
          capacitor('C1', 1e-6, 'out', 'gnd', { loss: 0.05, esr: 1 }),
        ],
      ),
    ],
    [
      'a transistor with a coil and a capacitor at its emitter',
      circuit(
        [rail('vcc', 10)],
        [
          resistor('R9', 1e3, 'in', 'gnd'),
          resistor('R1', 47e3, 'vcc', 'b'),
          resistor('R2', 47e3, 'b', 'gnd'),
          typed(
            'Q1',
            { kind: 'npn', hFE: [{ value: 200, at: 1e-3 }], VBE: { value: 0.62, at: 1e-3 }, Cob: 3e-12 },
            { collector: 'vcc', base: 'b', emitter: 'e' },
          ),
          resistor('R3', 4.7e3, 'e', 'gnd'),
          inductor('L1', 0.5, 60, 'e', 'out'),
          capacitor('C1', 220e-9, 'out', 'gnd'),
        ],
      ),
    ],
  ])('%s', (_, ringer) => {
    const pair = modesOf(ringer).poles.find(({ im }) => im > 0)!;
    expect(qOf(pair)).toBeGreaterThan(2);
    const { omega, decay } = ringing(ringer);
    // The line demanded is 1 %; what is read off steps of 1e-6 relative between crossings is nearer than that.
    expect(Math.abs(omega / pair.im - 1)).toBeLessThan(0.01);
    expect(Math.abs(decay / -pair.re - 1)).toBeLessThan(0.01);
  });
});
