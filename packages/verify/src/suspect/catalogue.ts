import type { Circuit } from '@curvewright/board';
import type { Source } from '@curvewright/network';
import { solveStage, varyStage, type Stage } from '../stage.ts';
import type { Steps } from '../steps.ts';
import type { Entry, PredictedRun } from './entry.ts';
import { exchanges, supplyFaults, trackFaults } from './board-faults.ts';
import { twinSignature, type Hypothesis, type Run } from './hypothesis.ts';
import { leanings } from './leanings.ts';
import { looseSpread, type LooseSpread } from './loose-spread.ts';
import { closedSpots, haveTwins, mirrored, mirrorOf } from './mirror.ts';
import { partFaults } from './part-faults.ts';
import { predictStage, type Prediction, type PredictionSetting } from './predict.ts';
import type { Priors } from './priors.ts';
import type { Spot } from './spot.ts';

/** What every hypothesis predicts at every spot: all that readings are held against. */
export interface Catalogue {
  readonly circuit: Circuit;
  readonly source: Source;
  readonly spots: readonly Spot[];
  readonly loose: LooseSpread;
  readonly setting: PredictionSetting;
  readonly healthy: Prediction;
  readonly entries: readonly Entry[];
  /** Hypotheses that no bias is found for at any value: what they would show is not known. */
  readonly unknown: readonly Hypothesis[];
}

export interface CatalogueRequest {
  readonly circuit: Circuit;
  readonly source: Source;
  readonly spots: readonly Spot[];
  readonly matched: readonly (readonly string[])[];
  readonly priors: Priors;
  /** Those of the spots that are read; the others are only looked forward to, and predicted less closely. */
  readonly read: readonly Spot[];
}

/** dB below the healthy gain where noise and pick-up are all that is left: common practice, no source. */
export const silence = 60;

/** Every single fault of a board that is known by its kind. */
function hypothesesOf(circuit: Circuit, priors: Priors): readonly Hypothesis[] {
  return [
    ...circuit.parts.flatMap((part) => partFaults(circuit, part, priors)),
    ...trackFaults(circuit, priors),
    ...exchanges(circuit, priors),
    ...supplyFaults(circuit, priors),
  ].filter(({ weight, runs }) => weight > 0 && runs.length > 0);
}

/**
 * Solves every case of every hypothesis, one hypothesis a step. Where the channels are alike a fault of the second shows what its twin shows in the
 * first, and is not solved again. Null where the circuit as it stands has no bias.
 */
export function* catalogueSteps(request: CatalogueRequest): Steps<Catalogue | null> {
  const { circuit, source, matched, priors } = request;
  const solved = solveStage(circuit, source);
  if (!solved.ok) return null;
  const twins = haveTwins(circuit);
  const spots = twins ? closedSpots(request.spots, circuit) : request.spots;
  const asked = new Set(
    (twins ? closedSpots(request.read, circuit) : request.read).map((spot) => JSON.stringify(spot)),
  );
  const read = spots.map((spot) => asked.has(JSON.stringify(spot)));
  const loose = looseSpread(circuit, matched);
  const open: PredictionSetting = { source, spots, loose, gainFloor: null, read, gainMoves: null };
  const first = predictStage(solved.value, open);
  if (first === null) return null;
  const gainFloor = first.mean.map((value, s) => (spots[s]?.kind === 'gain' ? value - silence : -Infinity));
  const healthy = predictStage(solved.value, { ...open, gainFloor }) ?? first;
  const setting = {
    ...open,
    gainFloor,
    gainMoves: request.read.some(({ kind }) => kind === 'gain') ? null : healthy.moves,
  };
  const hypotheses = hypothesesOf(circuit, priors);
  const mirror = twins ? mirrorOf(setting, circuit) : null;
  const known = new Map<string, Entry>();
  const entries: Entry[] = [];
  for (const [n, hypothesis] of hypotheses.entries()) {
    const twin = mirror && known.get(twinSignature(hypothesis.signature, 0, 1));
    const entry = twin ? mirrored(twin, hypothesis, mirror) : solvedEntry(hypothesis, circuit, setting);
    known.set(hypothesis.signature, entry);
    entries.push(entry);
    if (!twin) yield n / hypotheses.length;
  }
  return {
    circuit,
    source,
    spots,
    loose,
    setting,
    healthy,
    entries: entries.filter(({ runs }) => runs.length > 0),
    unknown: entries.filter(({ runs }) => runs.length === 0).map(({ hypothesis }) => hypothesis),
  };
}

function solvedEntry(hypothesis: Hypothesis, circuit: Circuit, setting: PredictionSetting): Entry {
  const shared = circuit.parts.every(({ ref, channel }) => channel === null || !hypothesis.refs.includes(ref));
  const boards = shared ? leanings(circuit, setting.loose) : [circuit];
  const runs = hypothesis.runs.flatMap((of) =>
    // Where there is a value to fit, the fit finds its way without leanings.
    (of.values.length > 1 ? [circuit] : boards).map((board) => predictedRun(hypothesis, of, board, setting)),
  );
  return { hypothesis, runs: runs.filter(({ values }) => values.length > 0) };
}

/** Each case starts from the bias of the one before, whose shape it has. */
function predictedRun(hypothesis: Hypothesis, of: Run, board: Circuit, setting: PredictionSetting): PredictedRun {
  let near: Stage | null = null;
  const solved = of.values.flatMap((value) => {
    const circuit = of.apply(board, value);
    const stage: Stage | null = near === null ? inspected(circuit, setting.source) : varyStage(near, circuit);
    if (stage === null) return [];
    near = stage;
    const prediction = predictStage(stage, setting);
    return prediction === null ? [] : [{ value, prediction: withGuess(hypothesis, circuit, prediction, setting) }];
  });
  return { of, values: solved.map(({ value }) => value), predictions: solved.map(({ prediction }) => prediction) };
}

function inspected(circuit: Circuit, source: Source): Stage | null {
  const solved = solveStage(circuit, source);
  return solved.ok ? solved.value : null;
}

/** What a fault at one value shows; null where it has no bias. */
export function predictFault(
  hypothesis: Hypothesis,
  { apply }: Run,
  value: number | null,
  circuit: Circuit,
  setting: PredictionSetting,
): Prediction | null {
  const faulty = apply(circuit, value);
  const stage = inspected(faulty, setting.source);
  const prediction = stage === null ? null : predictStage(stage, setting);
  return prediction === null ? null : withGuess(hypothesis, faulty, prediction, setting);
}

function withGuess(
  { vague, refs }: Hypothesis,
  { parts }: Circuit,
  prediction: Prediction,
  { spots }: PredictionSetting,
): Prediction {
  if (vague !== true) return prediction;
  const channel = parts.find(({ ref }) => ref === refs[0])?.channel ?? null;
  const open = prediction.open.map((sigma, s) => {
    const spot = spots[s]!;
    const own = spot.kind === 'volts' && (channel === null || spot.nodes[0].endsWith(`@${channel}`));
    return own ? Math.hypot(sigma, guess * Math.abs(prediction.mean[s]!)) : sigma;
  });
  return { ...prediction, open };
}

/** Share of a voltage by which it may be off where nothing holds a grid or a gate; an order of magnitude. */
const guess = 0.5;
