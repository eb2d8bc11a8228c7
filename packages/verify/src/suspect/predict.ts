import type { Circuit, Resistor } from '@curvewright/board';
import { coldResistances, nodeVolts, unknownOf, valueMoves, type Source, type Unknown } from '@curvewright/network';
import { gainReader } from '../gain-reader.ts';
import { humLevels } from '../hum.ts';
import { solveStage, varyStage, type Stage } from '../stage.ts';
import { hissLevels } from './hiss-levels.ts';
import type { LooseSpread } from './loose-spread.ts';
import { meterOhms, openOhms, type BenchMeter, type Spot } from './spot.ts';

/** What a circuit shows at every spot, and how far healthy parts move it. */
export interface Prediction {
  /** V or dB by spot, for parts at the middle of their spread. */
  readonly mean: Float64Array;
  /** `moves[spot * groups + group]`: by one standard deviation of a group's logarithm. */
  readonly moves: Float32Array;
  /** What else stays open at a spot, standard deviation. */
  readonly open: Float64Array;
}

export interface PredictionSetting {
  readonly source: Source;
  readonly spots: readonly Spot[];
  readonly loose: LooseSpread;
  /** dB by spot below which nothing is told apart any more; nothing at voltage spots. */
  readonly gainFloor: Float64Array | null;
  /** By spot whether it is read, and not only looked forward to. */
  readonly read: readonly boolean[];
  /** How healthy parts move the gains, taken over where no gain is read and only what to measure next leans on them; null: solved anew. */
  readonly gainMoves: Float32Array | null;
}

/** Share of a voltage that a meter may take away before its load is solved with all bends: where it is read, and where it only may be. */
const lightLoad = { read: 0.03, unread: 0.5 };

/** dB by which readings differ that are noise and pick-up alone. */
const nothingSigma = 3;

/** Null where the circuit has no bias. */
export function predict(circuit: Circuit, setting: PredictionSetting): Prediction | null {
  const solved = solveStage(circuit, setting.source);
  return solved.ok ? predictStage(solved.value, setting) : null;
}

export function predictStage(
  stage: Stage,
  { spots, loose, gainFloor, read, gainMoves }: PredictionSetting,
): Prediction | null {
  const { network, small, point } = stage;
  const frequencies = [...new Set(spots.flatMap((spot) => (spot.kind === 'gain' ? [spot.hz] : [])))];
  const pairs = spots.map((spot) => (spot.kind === 'volts' ? pairOf(stage, spot.nodes) : nowhere));
  const asked = { small, frequencies: Float64Array.from(frequencies), withMoves: gainMoves === null };
  const moves = valueMoves(network, point, asked, pairs, loose.values);
  if (moves === null) return null;
  const [values, groups] = [loose.values.length, loose.groups.length];
  const prediction: Prediction = {
    mean: new Float64Array(spots.length),
    moves: new Float32Array(spots.length * groups),
    open: new Float64Array(spots.length),
  };
  const write = (s: number, nominal: number, rows: Float64Array, row: number, scale: number): void => {
    let mean = nominal;
    loose.groups.forEach(({ members, mean: shift, sigma }, g) => {
      const slope = scale * members.reduce((sum, v) => sum + rows[row * values + v]!, 0);
      mean += slope * shift;
      prediction.moves[s * groups + g] = slope * sigma;
    });
    prediction.mean[s] = mean;
  };
  for (const [s, spot] of spots.entries()) {
    if (spot.kind === 'volts') {
      const ohms = meterOhms(spot.meter);
      const taken = moves.ohms[s]! / (ohms + moves.ohms[s]!);
      if (Math.abs(taken) <= (read[s] === true ? lightLoad.read : lightLoad.unread)) {
        write(s, moves.volts[s]! * (1 - taken), moves.voltsMoves, s, 1 - taken);
        continue;
      }
      const loaded = varyStage(stage, withMeter(stage.circuit, spot.nodes, spot.meter));
      if (loaded === null) return null;
      const [first, second] = spot.nodes.map((node) =>
        loaded.network.nodes.has(node) ? nodeVolts(loaded.network, loaded.point, node) : 0,
      );
      // How healthy parts move it is wanted to a tenth, and the divider gives that.
      write(s, first! - second!, moves.voltsMoves, s, 1 - taken);
      continue;
    }
    if (spot.kind !== 'gain') continue;
    const row = spot.channel * frequencies.length + frequencies.indexOf(spot.hz);
    const floor = gainFloor?.[s] ?? -Infinity;
    if (moves.gains[row]! > floor && gainMoves !== null) {
      prediction.mean[s] = moves.gains[row]!;
      prediction.moves.set(gainMoves.subarray(s * groups, (s + 1) * groups), s * groups);
    } else if (moves.gains[row]! > floor) write(s, moves.gains[row]!, moves.gainMoves, row, 1);
    if (prediction.mean[s]! <= floor || !(moves.gains[row]! > floor)) {
      prediction.mean[s] = floor;
      prediction.open[s] = nothingSigma;
      prediction.moves.fill(0, s * groups, (s + 1) * groups);
    }
  }
  writeCold(stage.circuit, spots, loose, prediction);
  writeLevels(stage, spots, prediction);
  return prediction;
}

/** ln Ω by which the leakage of an electrolytic strays that stands without voltage: it forms anew in minutes. An order of magnitude, no source. */
const unformed = 3;

function writeCold(
  circuit: Circuit,
  spots: readonly Spot[],
  loose: LooseSpread,
  { mean, moves, open }: Prediction,
): void {
  const cold = spots.flatMap((spot, s) => (spot.kind === 'ohms' ? [{ s, nodes: spot.nodes }] : []));
  if (cold.length === 0) return;
  const groups = loose.groups.length;
  coldResistances(
    circuit,
    cold.map(({ nodes }) => nodes),
  ).forEach(({ ohms, shares }, n) => {
    const { s } = cold[n]!;
    mean[s] = Math.log(Math.min(Math.max(ohms, 1e-3), openOhms));
    const throughWet = circuit.parts.reduce(
      (sum, part) => sum + (part.kind === 'capacitor' && part.polarised ? (shares.get(part.ref) ?? 0) : 0),
      0,
    );
    open[s] = unformed * throughWet;
    if (ohms >= openOhms) return;
    loose.groups.forEach(({ members, mean: shift, sigma }, g) => {
      const slope = members.reduce((sum, v) => {
        const { ref, parameter } = loose.values[v]!;
        return sum + (parameter === 'value' || parameter === 'leakage' ? (shares.get(ref) ?? 0) : 0);
      }, 0);
      mean[s] = mean[s]! + slope * shift;
      moves[s * groups + g] = slope * sigma;
    });
  });
}

/** dB by which a computed noise or hum may be off on a healthy board: parts differ, and wiring and transformer add theirs. Common practice, no source. */
const levelSigma = { hiss: 1.5, hum: 4 };

/** dB where no level is found. */
const nothingDb = -200;

function writeLevels(stage: Stage, spots: readonly Spot[], { mean, open }: Prediction): void {
  const asked = (kind: Spot['kind']): boolean => spots.some((spot) => spot.kind === kind);
  const hiss = asked('hiss') ? hissLevels(stage) : [];
  const hum = asked('hum') ? humLevels(stage, gainReader(stage)) : [];
  for (const [s, spot] of spots.entries()) {
    if (spot.kind !== 'hiss' && spot.kind !== 'hum') continue;
    const level = (spot.kind === 'hiss' ? hiss : hum)[spot.channel];
    mean[s] = level ?? nothingDb;
    open[s] = levelSigma[spot.kind];
  }
}

const nowhere: readonly [Unknown, Unknown] = [-1, -1];

/** A node that a fault took out of the circuit hangs free, and the meter pulls it to the other probe's. */
function pairOf({ network }: Stage, nodes: readonly [string, string]): readonly [Unknown, Unknown] {
  const [first, second] = nodes.map((node) =>
    node === 'gnd' || network.nodes.has(node) ? unknownOf(network, node) : null,
  );
  return first === undefined || second === undefined || first === null || second === null ? nowhere : [first, second];
}

export function withMeter(circuit: Circuit, nodes: readonly [string, string], meter: BenchMeter): Circuit {
  const part: Resistor = {
    kind: 'resistor',
    ref: 'meter',
    position: 'meter',
    channel: null,
    place: { file: 'meter', line: 1, column: 1 },
    ohms: meterOhms(meter),
    between: nodes,
  };
  return { ...circuit, parts: [...circuit.parts, part] };
}
