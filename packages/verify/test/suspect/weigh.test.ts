import { idealSource } from '@curvewright/network';
import { describe, expect, it } from 'vitest';
import { atOnce } from '../../src/index.ts';
import { catalogueSteps, type Catalogue } from '../../src/suspect/catalogue.ts';
import { beliefs, sharesOf } from '../../src/suspect/posterior.ts';
import { usualPriors } from '../../src/suspect/priors.ts';
import { weigher } from '../../src/suspect/weigh.ts';
import { agePart } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { monoBoard, stageOf } from '../stages.ts';

const meter = { resistance: 10e6, accuracy: 0.01 };

/** A divider of 20 V: R1 over R2 at `a`, a second one at `b`. */
const board = monoBoard(
  `R1: { kind: resistor, value: 10 kΩ, tolerance: 5 %, between: [vcc, a] }
   R2: { kind: resistor, value: 10 kΩ, tolerance: 5 %, between: [a, gnd] }
   R3: { kind: resistor, value: 10 kΩ, tolerance: 5 %, between: [vcc, b] }
   R4: { kind: resistor, value: 30 kΩ, tolerance: 5 %, between: [b, gnd] }
   R5: { kind: resistor, value: 1 kΩ, tolerance: 1 %, between: [in, out] }`,
  'rails: { vcc: { volts: 20 V } }',
);
const nodes = ['a@mono', 'b@mono', 'vcc'];

function catalogueOf(): Catalogue {
  const spots = nodes.map((node) => ({ kind: 'volts' as const, nodes: [node, 'gnd'] as const, meter }));
  const request = {
    circuit: board.circuit,
    source: idealSource,
    spots,
    matched: [],
    priors: usualPriors,
    read: spots,
  };
  const found = atOnce(catalogueSteps(request));
  if (found === null) throw new Error('no catalogue');
  return found;
}

const catalogue = catalogueOf();
const readings = nodes.map((_, spot) => ({ terms: [{ spot, factor: 1 }] }));
const scales = weigher(catalogue, readings, []);

describe('the distance of readings from a prediction', () => {
  it('is that of their covariance: tolerances, the rail they share, meter and model', () => {
    // By hand: a = V·R2/(R1 + R2), da/d ln R = ±V/4 = ±5 V, b = 3V/4, db/d ln R = ±3V/16 = ±3.75 V; σ of ln R is 0.05/√3, of ln V 0.03.
    const [r, v] = [0.05 / Math.sqrt(3), 0.03];
    const own = (volts: number): number => (0.01 * volts) ** 2 / 3 + 0.003 ** 2 + (0.003 * volts) ** 2;
    const [aa, bb, cc] = [
      2 * (5 * r) ** 2 + (10 * v) ** 2 + own(10),
      2 * (3.75 * r) ** 2 + (15 * v) ** 2 + own(15),
      (20 * v) ** 2 + own(20),
    ];
    const [ab, ac, bc] = [10 * 15 * v ** 2, 10 * 20 * v ** 2, 15 * 20 * v ** 2];
    const [da, db, dc] = [0.4, -0.3, 0.1];
    // d' Σ⁻¹ d by the adjugate.
    const determinant = aa * (bb * cc - bc ** 2) - ab * (ab * cc - bc * ac) + ac * (ab * bc - bb * ac);
    const square =
      (da ** 2 * (bb * cc - bc ** 2) +
        db ** 2 * (aa * cc - ac ** 2) +
        dc ** 2 * (aa * bb - ab ** 2) +
        2 * da * db * (ac * bc - ab * cc) +
        2 * da * dc * (ab * bc - ac * bb) +
        2 * db * dc * (ab * ac - aa * bc)) /
      determinant;
    const read = catalogue.healthy.mean.map((mean, n) => mean + [da, db, dc][n]!);
    // The meter takes 5 kΩ/10 MΩ of the volts, and the mean of ln R is off by 4·10⁻⁴: both below a thousandth.
    expect(scales.healthy(read).best.square / square).toBeCloseTo(1, 2);
  });

  it('is the same for readings in another order', () => {
    const turned = weigher(catalogue, readings.toReversed(), []);
    const read = catalogue.healthy.mean.map((mean, n) => mean * (1 + 0.02 * n));
    expect(turned.healthy(read.toReversed()).best.square).toBeCloseTo(scales.healthy(read).best.square, 9);
  });
});

describe('a fitted value', () => {
  it.each([1.27, 1.9, 2.7, 7.3])('comes back: R2 at %d times its value', (factor) => {
    const stage = stageOf(agePart(board.circuit, 'R2', { kind: 'drifted', value: factor * 10e3 }));
    const read = Float64Array.from(nodes, (node) => nodeVolts(stage.network, stage.point, node));
    const believed = beliefs(catalogue, scales, read);
    const shares = sharesOf(believed);
    const n = shares.entries.indexOf(Math.max(...shares.entries));
    const { entry, best } = believed.entries[n]!;
    // Drifted up and R1 drifted down show the same: what counts is that one of the two is fitted, R2 the likelier.
    expect(entry.hypothesis.refs).toEqual(['R2']);
    expect(entry.hypothesis.kind).toBe('drifted');
    // The meter's load is half a thousandth; the best of the steps lies within a third of a standard deviation, which is 6 % of the value here.
    expect(Math.abs(best.value! / (factor * 10e3) - 1)).toBeLessThan(0.05);
  });

  it('does not win by its freedom over nothing wrong', () => {
    const shares = sharesOf(beliefs(catalogue, scales, catalogue.healthy.mean));
    expect(shares.healthy).toBeGreaterThan(0.5);
  });
});
