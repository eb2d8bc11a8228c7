import type { Circuit, Resistor } from '@curvewright/board';
import { unknownOf, valueMoves, type Source, type Unknown } from '@curvewright/network';
import { solveStage, varyStage, type Stage } from '../stage.ts';
import type { LooseSpread } from './loose-spread.ts';
import { meterOhms, type BenchMeter, type Spot } from './spot.ts';

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
}

/** Share of a voltage that a meter may take away before its load is solved with all bends. */
const lightLoad = 0.03;

/** dB by which readings differ that are noise and pick-up alone. */
const nothingSigma = 3;

/** Null where the circuit has no bias. */
export function predict(circuit: Circuit, setting: PredictionSetting): Prediction | null {
  const solved = solveStage(circuit, setting.source);
  return solved.ok ? predictStage(solved.value, setting) : null;
}

export function predictStage(stage: Stage, { spots, loose, gainFloor }: PredictionSetting): Prediction | null {
  const { network, small, point } = stage;
  const frequencies = [...new Set(spots.flatMap((spot) => (spot.kind === 'gain' ? [spot.hz] : [])))];
  const pairs = spots.map((spot) => (spot.kind === 'volts' ? pairOf(stage, spot.nodes) : nowhere));
  const moves = valueMoves(network, point, { small, frequencies: Float64Array.from(frequencies) }, pairs, loose.values);
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
      if (Math.abs(taken) <= lightLoad) {
        write(s, moves.volts[s]! * (1 - taken), moves.voltsMoves, s, 1 - taken);
        continue;
      }
      const loaded = varyStage(stage, withMeter(stage.circuit, spot.nodes, spot.meter));
      const heavy = loaded && valueMoves(loaded.network, loaded.point, nothing(loaded), [pairs[s]!], loose.values);
      if (!heavy) return null;
      write(s, heavy.volts[0]!, heavy.voltsMoves, 0, 1);
      continue;
    }
    const row = spot.channel * frequencies.length + frequencies.indexOf(spot.hz);
    const floor = gainFloor?.[s] ?? -Infinity;
    if (moves.gains[row]! > floor) write(s, moves.gains[row]!, moves.gainMoves, row, 1);
    if (prediction.mean[s]! <= floor || !(moves.gains[row]! > floor)) {
      prediction.mean[s] = floor;
      prediction.open[s] = nothingSigma;
      prediction.moves.fill(0, s * groups, (s + 1) * groups);
    }
  }
  return prediction;
}

const nowhere: readonly [Unknown, Unknown] = [-1, -1];

/** A node that a fault took out of the circuit hangs free, and the meter pulls it to the other probe's. */
function pairOf({ network }: Stage, nodes: readonly [string, string]): readonly [Unknown, Unknown] {
  const [first, second] = nodes.map((node) => (node === 'gnd' || network.nodes.has(node) ? unknownOf(network, node) : null));
  return first === undefined || second === undefined || first === null || second === null ? nowhere : [first, second];
}

function nothing({ small }: Stage): { readonly small: Stage['small']; readonly frequencies: Float64Array } {
  return { small, frequencies: new Float64Array(0) };
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
