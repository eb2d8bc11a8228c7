import type { Circuit, Outcome, Suspecting } from '@curvewright/board';
import type { Source } from '@curvewright/network';
import { solveStage } from '../stage.ts';
import { within, type Steps } from '../steps.ts';
import type { ReadAgainst, Suspect, SuspectAnswer, Suspicion } from './answer.ts';
import { catalogueSteps, type Catalogue, type Entry } from './catalogue.ts';
import { chiSquareTail } from './chi-square.ts';
import { errorVariance } from './covariance.ts';
import { readingsIn, type Evidence, type ToldReading } from './evidence.ts';
import { fittedPrediction } from './fitted.ts';
import { heardEvidence, usualMisheard } from './heard.ts';
import { nextSteps } from './next/next-steps.ts';
import { pairSteps } from './pairs.ts';
import { beliefs, type Beliefs } from './posterior.ts';
import type { Prediction } from './predict.ts';
import { healthyShare, usualPriors } from './priors.ts';
import { chartSpots, curveSpots, type Spot } from './spot.ts';
import { logSum, weigher, type Weigher } from './weigh.ts';
import { offRails, withRails, type OffRail } from './world.ts';

export interface SuspectRequest {
  readonly circuit: Circuit;
  readonly source: Source;
  /** Groups of designators that draw alike. */
  readonly matched: readonly (readonly string[])[];
  readonly evidence: Evidence;
  readonly suspecting?: Suspecting;
}

/** χ² as large as that comes by chance once in a thousand: what fits worse is not explained. */
const leastChance = 1e-3;

/** Suspects with less are not told. */
const leastShare = 1e-3;
const mostSuspects = 20;

/** A board as its file says, or with its supplies as they were measured. */
interface World {
  readonly catalogue: Catalogue;
  readonly weigher: Weigher;
  readonly values: Float64Array;
  readonly beliefs: Beliefs;
  /** ln of how likely it is before anything is read. */
  readonly prior: number;
  readonly rails: readonly OffRail[];
}

/** A suspect with what its share is made of. */
interface Candidate {
  readonly log: number;
  readonly square: number;
  readonly faults: readonly Suspicion[];
  readonly prediction: Prediction;
}

/** Weighs every fault against the readings, and the ways to look further against one another. Refused where the board itself has no bias. */
export function* suspectSteps(request: SuspectRequest): Steps<Outcome<SuspectAnswer>> {
  const { circuit, source, evidence, suspecting } = request;
  const solved = solveStage(circuit, source);
  if (!solved.ok) return solved;
  const spots = askedSpots(circuit, evidence, solved.value.network.nodes.keys());
  const first = yield* within(0, 0.45, worldSteps(request, circuit, spots, []));
  if (first === null) return refusal(circuit);
  const off = offRails(circuit, first.catalogue, evidence.told);
  const asMeasured = off.length === 0 ? null : yield* within(0.45, 0.7, worldSteps(request, withRails(circuit, off), spots, off));
  const worlds = asMeasured === null ? [first] : [asMeasured, first];
  const singles = worlds.flatMap(singleCandidates);
  const leading = worlds[0]!;
  const healthy = healthyCandidate(first);
  const fits = Math.max(...[healthy, ...singles].map(({ square }) => chiSquareTail(square, evidence.told.length)));
  const explained = evidence.told.length === 0 || fits >= leastChance;
  const pairs = explained ? [] : yield* within(0.7, 0.9, pairCandidates(leading));
  const candidates = [...singles, ...pairs];
  const whole = logSum([healthy.log, ...candidates.map(({ log }) => log)]);
  const shareOf = ({ log }: { readonly log: number }): number => Math.exp(log - whole);
  const ranked = candidates.toSorted((a, b) => b.log - a.log);
  const told = ranked.filter((each) => shareOf(each) >= leastShare).slice(0, mostSuspects);
  const next = nextSteps({
    catalogue: leading.catalogue,
    values: leading.values,
    beliefs: leading.beliefs,
    evidence,
    minutes: suspecting?.minutes ?? {},
  });
  const nothingWrong = shareOf(healthy);
  return {
    ok: true,
    value: {
      answer: !explained ? 'no single fault' : nothingWrong >= 0.5 ? 'nothing wrong' : 'suspects',
      nothingWrong,
      rails: off.map((rail) => ({ ...rail, advice: `correct ${rail.rail} first` })),
      readings: againstHealthy(first, evidence.told),
      heard: evidence.heard.map(({ what, channel }) => ({
        what,
        channel: channel === null ? null : (circuit.channels[channel]?.name ?? null),
      })),
      suspects: told.map((each): Suspect => ({
        faults: each.faults,
        probability: shareOf(each),
        square: each.square,
        chance: chiSquareTail(each.square, evidence.told.length),
        predicted: predictedReadings(first.catalogue, each.prediction, evidence.told),
      })),
      parts: byPart(candidates.map((each) => ({ faults: each.faults, share: shareOf(each) }))),
      ties: tiesOf(leading, told.filter((each) => shareOf(each) >= tieShare)),
      next,
      unknown: first.catalogue.unknown.map(({ refs, kind }) => ({ ref: refs[0]!, fault: kind })),
      notes: notesOf(evidence),
    },
  };
}

/** The evidence's own, the whole voltage chart and the curve, which words and the next step lean on. */
function askedSpots(circuit: Circuit, evidence: Evidence, nodes: Iterable<string>): readonly Spot[] {
  const heard = (word: string): boolean => evidence.heard.some(({ what }) => what === word);
  const levels = (['hiss', 'hum'] as const).filter(heard);
  const all = [
    ...evidence.spots,
    ...chartSpots(circuit, nodes, evidence.meter),
    ...curveSpots(circuit),
    ...levels.flatMap((kind) => circuit.channels.map((_, channel): Spot => ({ kind, channel }))),
  ];
  return [...new Map(all.map((spot) => [JSON.stringify(spot), spot])).values()];
}

function* worldSteps(
  { source, matched, evidence, suspecting }: SuspectRequest,
  circuit: Circuit,
  spots: readonly Spot[],
  rails: readonly OffRail[],
): Steps<World | null> {
  const priors = { ...usualPriors, ...suspecting?.priors };
  const gainsRead = evidence.spots.some(({ kind }) => kind === 'gain');
  const catalogue = yield* catalogueSteps({ circuit, source, spots, matched, priors, gainsRead });
  if (catalogue === null) return null;
  const { readings, shared, values } = readingsIn(catalogue, evidence.told);
  const own = weigher(catalogue, readings, shared);
  const misheard = suspecting?.misheard ?? usualMisheard;
  const believed = beliefs(catalogue, own, values, (fits) => heardEvidence(catalogue, fits, evidence.heard, misheard));
  const total = catalogue.entries.reduce((sum, { hypothesis }) => sum + hypothesis.weight, 0);
  const prior = rails.length * Math.log(((1 - healthyShare) * priors.supply) / total);
  return { catalogue, weigher: own, values, beliefs: believed, prior, rails };
}

function healthyCandidate({ catalogue, beliefs: { healthy } }: World): Candidate {
  return { ...healthy, faults: [], prediction: catalogue.healthy };
}

/** With the supplies as measured every suspect has them as further faults, and they alone are one. */
function singleCandidates(world: World): readonly Candidate[] {
  const { catalogue, beliefs: believed, prior, rails } = world;
  const supplies = rails.map(({ rail, volts }): Suspicion => ({
    ref: rail,
    others: [],
    channel: null,
    fault: 'supply',
    words: 'the supply is off',
    value: volts,
    unit: 'V',
  }));
  const singles = believed.entries.map(({ entry, best, log }): Candidate => ({
    log: log + prior,
    square: best.square,
    faults: [...supplies, suspicionOf(catalogue, entry, best.value)],
    prediction: fittedPrediction(entry, best),
  }));
  if (rails.length === 0) return singles;
  const { log, square } = believed.healthy;
  return [{ log: log + prior, square, faults: supplies, prediction: catalogue.healthy }, ...singles];
}

function* pairCandidates({ catalogue, weigher: own, values, prior }: World): Steps<readonly Candidate[]> {
  const total = catalogue.entries.reduce((sum, { hypothesis }) => sum + hypothesis.weight, 0);
  const pairs = yield* pairSteps(catalogue, own, values);
  return pairs.map(({ entries, values: fitted, square, logLikelihood, prediction }): Candidate => {
    const both = entries.map((n) => catalogue.entries[n]!);
    const chance = both.reduce(
      (log, { hypothesis }) => log + Math.log(((1 - healthyShare) * hypothesis.weight) / total),
      0,
    );
    return {
      log: logLikelihood + chance + prior,
      square,
      faults: both.map((entry, n) => suspicionOf(catalogue, entry, fitted[n] ?? null)),
      prediction,
    };
  });
}

export function suspicionOf({ circuit }: Catalogue, { hypothesis }: Entry, value: number | null): Suspicion {
  const [ref = '', ...others] = hypothesis.refs;
  return {
    ref,
    others,
    channel: circuit.parts.find((part) => part.ref === ref)?.channel ?? null,
    fault: hypothesis.kind,
    words: hypothesis.words,
    value,
    unit: hypothesis.unit,
  };
}

/** In the unit of the reading. */
function predictedReadings({ spots }: Catalogue, { mean }: Prediction, told: readonly ToldReading[]): readonly number[] {
  const places = new Map(spots.map((spot, s) => [JSON.stringify(spot), s]));
  return told.map(({ terms, unit }) => {
    const sum = terms.reduce((total, { spot, factor }) => total + factor * mean[places.get(JSON.stringify(spot))!]!, 0);
    return unit === 'Ω' ? Math.exp(sum) : sum;
  });
}

function againstHealthy({ catalogue }: World, told: readonly ToldReading[]): readonly ReadAgainst[] {
  const { spots, healthy, loose } = catalogue;
  const normal = predictedReadings(catalogue, healthy, told);
  const places = new Map(spots.map((spot, s) => [JSON.stringify(spot), s]));
  const width = loose.groups.length;
  return told.map(({ name, unit, measured, terms, sigma = 0, level = [] }, n) => {
    const moves = new Float64Array(width);
    let variance = sigma ** 2 + level.reduce((sum, each) => sum + each.sigma ** 2, 0);
    for (const { spot, factor } of terms) {
      const s = places.get(JSON.stringify(spot))!;
      variance += factor ** 2 * (errorVariance(spot, healthy.mean[s]!) + healthy.open[s]! ** 2);
      for (let g = 0; g < width; g++) moves[g] = moves[g]! + factor * healthy.moves[s * width + g]!;
    }
    const spread = Math.sqrt(variance + moves.reduce((sum, move) => sum + move ** 2, 0));
    return { name, unit, measured, normal: normal[n]!, sigma: unit === 'Ω' ? spread * normal[n]! : spread };
  });
}

function byPart(
  candidates: readonly { readonly faults: readonly Suspicion[]; readonly share: number }[],
): SuspectAnswer['parts'] {
  const parts = new Map<string, number>();
  for (const { faults, share } of candidates) {
    for (const ref of new Set(faults.flatMap((fault) => [fault.ref, ...fault.others])))
      parts.set(ref, (parts.get(ref) ?? 0) + share);
  }
  return [...parts]
    .filter(([, probability]) => probability >= leastShare)
    .map(([ref, probability]) => ({ ref, probability }))
    .sort((a, b) => b.probability - a.probability);
}

/** Suspects with less are no rivals. */
const tieShare = 0.01;

/** Standard deviations, all readings taken together, below which two predictions are the same. */
const tieApart = 1;

function tiesOf({ weigher: own }: World, suspects: readonly Candidate[]): readonly (readonly string[])[] {
  const groups: Candidate[][] = [];
  for (const each of suspects) {
    const group = groups.find(([first]) => own.apart(first!.prediction, each.prediction) < tieApart);
    if (group === undefined) groups.push([each]);
    else group.push(each);
  }
  return groups
    .map((group) => [...new Set(group.flatMap(({ faults }) => faults.map(({ ref }) => ref)))])
    .filter((refs) => refs.length > 1);
}

function notesOf({ told, meter, accounted }: Evidence): readonly string[] {
  const cold = told.some(({ unit }) => unit === 'Ω');
  return [
    ...(told.length === 0 ? ['There are no readings yet: the order is that of how often each fault is met.'] : []),
    ...(accounted.length === 0 ? [] : [`The pops are put down to ${accounted.join(', ')}, as pulled.`]),
    ...(cold
      ? ['Cold resistances: everything unplugged, capacitors charged, and no junction conducts at the test voltage (0.2 V and less).']
      : []),
    ...('resistance' in meter && meter.resistance === Infinity ? ['No meter is named: readings are taken as exact.'] : []),
  ];
}

function refusal({ parts }: Circuit): Outcome<SuspectAnswer> {
  const place = parts[0]?.place ?? { file: 'board', line: 1, column: 1 };
  return { ok: false, diagnostics: [{ code: 'no-bias', place, message: 'the board cannot be linearised at its bias' }] };
}
