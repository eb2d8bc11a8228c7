import type { BipolarType, DiodeType } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { departuresOf, type Departure } from '../src/departures.ts';
import { linearise } from '../src/linearise.ts';
import { loadLine } from '../src/load-line.ts';
import { stepTransfer } from '../src/step-transfer.ts';
import { capacitor, circuit, rail, resistor, typed } from './circuits.ts';
import { biased } from './solved.ts';

const diode: DiodeType = { kind: 'diode', VF: [{ value: 0.65, at: 1e-3 }] };
const npn: BipolarType = { kind: 'npn', hFE: [{ value: 300, at: 0 }], VBE: { value: 0.6, at: 1e-3 } };

/** A part whose current, over 1 Ω, makes the load line open = u³ − 2u: three moves answer to one open move below 2·(2/3)^1.5, one above. */
const bistable: Departure = {
  ref: 'X1',
  controls: [[0, -1]],
  ports: [[0, -1]],
  evaluate([u], { currents, currentSlopes, charges, chargeSlopes }) {
    currents[0] = 3 * u! - u! ** 3;
    currentSlopes[0] = 3 - 3 * u! ** 2;
    charges[0] = 2 * u!;
    chargeSlopes[0] = 2;
  },
  limit: () => false,
};
const fold = 2 * (2 / 3) ** 1.5;
const slack = (controls: number): Float64Array => new Float64Array(controls).fill(1e-12);

describe('a load line', () => {
  it('holds a diode to what its resistor lets through, however far it is driven', () => {
    const clipper = circuit(
      [],
      [resistor('R1', 1e3, 'in', 'out'), typed('D1', diode, { anode: 'out', cathode: 'gnd' })],
    );
    const { network, point } = biased(clipper);
    const parts = departuresOf(network, point, 'mono');
    const line = loadLine(parts, stepTransfer(linearise(network, point), parts, 1e-6));
    for (const drive of [1e-3, 0.1, 1, 30, -30]) {
      expect(line.settle(Float64Array.of(drive), slack(1))).toBe(true);
      const [u] = line.moves;
      // The bias is at 0 V, where the diode's own line has next to no slope: the open move is the drive, and the current (drive − u)/1 kΩ.
      // That slope, Is/VT of some 1e-13 S, is 1e-10 of the resistor's; the current is then held against it.
      expect(Math.abs(line.currents[0]! - (drive - u!) / 1e3)).toBeLessThan(1e-9 * Math.abs(drive / 1e3) + 1e-14);
      expect(u).toBeLessThan(0.8);
    }
  });

  it('follows its branch up to the fold, and past it finds the one that is left', () => {
    const line = loadLine([bistable], Float64Array.of(1));
    line.moves[0] = -1.4;
    for (const open of [-0.5, 0, 0.5, 0.9 * fold, 0.999 * fold]) {
      expect(line.settle(Float64Array.of(open), slack(1))).toBe(true);
      expect(line.moves[0]).toBeLessThan(-Math.sqrt(2 / 3));
    }
    for (const open of [1.001 * fold, 1.5 * fold, 10]) {
      line.moves[0] = -0.8;
      expect(line.settle(Float64Array.of(open), slack(1))).toBe(true);
      const u = line.moves[0];
      expect(u).toBeGreaterThan(Math.sqrt(2 / 3));
      // The slack, and the rounding of terms of up to 10 V.
      expect(Math.abs(u ** 3 - 2 * u - open)).toBeLessThan(1e-11);
    }
  });

  it('has the slopes of currents and charges over the open moves', () => {
    const line = loadLine([bistable], Float64Array.of(1));
    const at = (open: number): { current: number; charge: number } => {
      line.moves[0] = 1.6;
      expect(line.settle(Float64Array.of(open), slack(1))).toBe(true);
      return { current: line.currents[0]!, charge: line.charges[0]! };
    };
    const step = 1e-4;
    const [low, high] = [at(1 - step), at(1 + step)];
    at(1);
    const [amps, coulombs] = [new Float64Array(2), new Float64Array(2)];
    line.linearise(amps, coulombs, 1);
    // Central differences err by step²/6 times the third derivative, which is of the order of 1 here.
    expect(amps[1]).toBeCloseTo((high.current - low.current) / (2 * step), 6);
    expect(coulombs[1]).toBeCloseTo((high.charge - low.charge) / (2 * step), 6);
    expect([amps[0], coulombs[0]]).toEqual([0, 0]);
  });

  it('says so where nothing settles', () => {
    const never: Departure = {
      ...bistable,
      evaluate([u], { currents, currentSlopes, charges, chargeSlopes }) {
        currents[0] = u! - Math.hypot(u!, 1);
        currentSlopes[0] = 1 - u! / Math.hypot(u!, 1);
        charges[0] = chargeSlopes[0] = 0;
      },
    };
    // On this load line hypot(u, 1) = open, which is never below 1.
    expect(loadLine([never], Float64Array.of(1)).settle(Float64Array.of(0.5), slack(1))).toBe(false);
  });
});

describe('what ports do to controls within a step of time', () => {
  it('is a resistance with the capacitor beside it as one of step over capacitance', () => {
    const { network, point } = biased(
      circuit(
        [],
        [
          resistor('R1', 1e3, 'in', 'out'),
          capacitor('C1', 22e-9, 'out', 'gnd'),
          typed('D1', diode, { anode: 'out', cathode: 'gnd' }),
        ],
      ),
    );
    const parts = departuresOf(network, point, 'mono');
    const small = linearise(network, point);
    for (const seconds of [1e-9, 1e-5, 1]) {
      const [found] = stepTransfer(small, parts, seconds);
      const closedForm = -1 / (1 / 1e3 + 22e-9 / seconds);
      // The diode's own line: 1e-10 of 1/R1.
      expect(Math.abs(found! / closedForm - 1)).toBeLessThan(1e-9);
    }
  });

  it('is the same within every step where nothing stores', () => {
    const { network, point } = biased(
      circuit(
        [rail('vcc', 20)],
        [
          resistor('R1', 470e3, 'out', 'b'),
          resistor('R2', 4.7e3, 'vcc', 'out'),
          resistor('R3', 1e3, 'in', 'b'),
          typed('Q1', npn, { collector: 'out', base: 'b', emitter: 'gnd' }),
        ],
      ),
    );
    const parts = departuresOf(network, point, 'mono');
    const small = linearise(network, point);
    const [short, long] = [stepTransfer(small, parts, 1e-9), stepTransfer(small, parts, 1)];
    short.forEach((ohms, n) => expect(Math.abs(ohms - long[n]!)).toBeLessThanOrEqual(1e-12 * Math.abs(ohms)));
  });
});
