import { readFileSync } from 'node:fs';
import { readBoard, type Circuit } from '@curvewright/board';
import { circuitWithFactors, idealSource, nodeVolts } from '@curvewright/network';
import { atOnce, gainReader, solveStage, varyStage } from '@curvewright/verify';
import { ownTolerance } from '../../../packages/verify/src/own-tolerance.ts';
import { streamOf, uniform } from '../../../packages/verify/src/spread/uniform.ts';
import { catalogueSteps, type Catalogue } from '../../../packages/verify/src/suspect/catalogue.ts';
import { errorVariance, type Reading, type SharedError } from '../../../packages/verify/src/suspect/covariance.ts';
import { predict, withMeter } from '../../../packages/verify/src/suspect/predict.ts';
import { usualPriors } from '../../../packages/verify/src/suspect/priors.ts';
import { chartSpots, curveSpots, usualMeter, type Spot } from '../../../packages/verify/src/suspect/spot.ts';
import type { Injection, Random } from './injections.ts';

/** Invented: a response is read to a tenth of a dB, its level to three tenths. */
const gainSigma = 0.1;
const levelSigma = 0.3;

/** A seed board with every reading that is offered: the whole voltage chart and, where asked for, a curve. */
export interface BenchBoard {
  readonly name: string;
  readonly circuit: Circuit;
  readonly catalogue: Catalogue;
  readonly spots: readonly Spot[];
  /** One for each spot, in the spots' order. */
  readonly readings: readonly Reading[];
  readonly shared: readonly SharedError[];
}

export function benchBoard(name: string, withCurve: boolean): BenchBoard {
  const file = new URL(`../../../seeds/boards/${name}.board.yaml`, import.meta.url);
  const read = readBoard(readFileSync(file, 'utf8'), name);
  if (!read.ok) throw new Error(`${name} cannot be read`);
  const { circuit, matched } = read.value;
  const solved = solveStage(circuit);
  if (!solved.ok) throw new Error(`${name} has no bias`);
  const spots = [
    ...chartSpots(circuit, solved.value.network.nodes.keys(), usualMeter),
    ...(withCurve ? curveSpots(circuit) : []),
  ];
  const request = { circuit, source: idealSource, spots, matched, priors: usualPriors, read: spots };
  const catalogue = atOnce(catalogueSteps(request));
  if (catalogue === null) throw new Error(`${name} is singular`);
  const places = new Map(catalogue.spots.map((spot, s) => [JSON.stringify(spot), s]));
  const gains = spots.flatMap(({ kind }, n) => (kind === 'gain' ? [n] : []));
  return {
    name,
    circuit,
    catalogue,
    spots,
    readings: spots.map((spot) => ({
      terms: [{ spot: places.get(JSON.stringify(spot))!, factor: 1 }],
      ...(spot.kind === 'gain' && { sigma: gainSigma }),
    })),
    shared: gains.length === 0 ? [] : [{ readings: gains, sigma: levelSigma }],
  };
}

/** A stream of its own for each name, the same on every run. */
export function randomOf(seed: number, name: string): Random {
  const stream = streamOf(name);
  let drawn = 0;
  return () => uniform(seed, stream, drawn++);
}

/** Box & Muller, Ann. Math. Stat. 29, 1958. */
function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
}

/** A board whose parts are healthy: evenly within what the files or the builds state, else within two usual standard deviations. */
export function drawnBoard({ circuit, catalogue }: BenchBoard, random: Random): Circuit {
  const { values, groups } = catalogue.loose;
  const factors = new Float64Array(values.length);
  for (const { members, sigma } of groups) {
    const { ref, parameter } = values[members[0]!]!;
    const part = circuit.parts.find((each) => each.ref === ref);
    const own = part === undefined ? null : ownTolerance(part, parameter);
    const factor =
      own === null
        ? Math.exp(sigma * Math.max(-2, Math.min(2, normal(random))))
        : 1 - own.minus + random() * (own.minus + own.plus);
    for (const v of members) factors[v] = factor;
  }
  return circuitWithFactors(circuit, values, factors);
}

/** What a bench reads of a board: the meter evenly within ±1 %, the curve with its noise and a level of its own; null without a bias. */
export function measured(
  { catalogue, spots, readings }: BenchBoard,
  circuit: Circuit,
  random: Random,
): Float64Array | null {
  const solved = solveStage(circuit);
  if (!solved.ok) return null;
  const reader = gainReader(solved.value);
  const level = levelSigma * normal(random);
  const values = new Float64Array(spots.length);
  for (const [n, spot] of spots.entries()) {
    if (spot.kind === 'gain') {
      const floor = catalogue.setting.gainFloor![readings[n]!.terms[0]!.spot]!;
      const gain = reader.gainDb(spot.channel, spot.hz);
      values[n] = (gain > floor ? gain : floor) + level + gainSigma * normal(random);
    } else if (spot.kind === 'volts') {
      const loaded = varyStage(solved.value, withMeter(circuit, spot.nodes, spot.meter));
      if (loaded === null) return null;
      const [node] = spot.nodes;
      const volts = loaded.network.nodes.has(node) ? nodeVolts(loaded.network, loaded.point, node) : 0;
      values[n] = volts * (1 + usualMeter.accuracy * (2 * random() - 1));
    }
  }
  return values;
}

/** By how many standard deviations of healthy boards and meter a fault moves the reading that it moves most; null without a bias. */
export function furthestMove(
  { circuit, catalogue, spots, readings, shared }: BenchBoard,
  { apply }: Injection,
): number | null {
  const faulty = predict(apply(circuit), catalogue.setting);
  if (faulty === null) return null;
  const { healthy, loose } = catalogue;
  const groups = loose.groups.length;
  return Math.max(
    ...readings.map(({ terms, sigma = 0 }, n) => {
      const s = terms[0]!.spot;
      const own = healthy.moves.subarray(s * groups, (s + 1) * groups);
      const levels = shared.filter((each) => each.readings.includes(n)).map((each) => each.sigma);
      const spread = Math.hypot(...own, sigma, ...levels, Math.sqrt(errorVariance(spots[n]!, healthy.mean[s]!)));
      return Math.abs(faulty.mean[s]! - healthy.mean[s]!) / spread;
    }),
  );
}
