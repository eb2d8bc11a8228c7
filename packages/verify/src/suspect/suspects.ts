import type { Circuit, Outcome } from '@curvewright/board';
import { solveStage } from '../stage.ts';
import { within, type Steps } from '../steps.ts';
import type { Suspect, SuspectAnswer } from './answer.ts';
import { healthyCandidate, pairCandidates, singleCandidates } from './candidates.ts';
import { chiSquareTail } from './chi-square.ts';
import type { Evidence } from './evidence.ts';
import { nextSteps } from './next/next-steps.ts';
import type { SuspectRequest } from './request.ts';
import { chartSpots, curveSpots, type Spot } from './spot.ts';
import { againstHealthy, byPart, predictedReadings, tieShare, tiesOf } from './told.ts';
import { logSum } from './weigh.ts';
import { offRails, withRails, worldSteps } from './world.ts';

/** χ² as large as that comes by chance once in a thousand: what fits worse is not explained. */
const leastChance = 1e-3;

/** Suspects with less are not told. */
const leastShare = 1e-3;
const mostSuspects = 20;

/** Weighs every fault against the readings, and the ways to look further against one another. Refused where the board itself has no bias. */
export function* suspectSteps(request: SuspectRequest): Steps<Outcome<SuspectAnswer>> {
  const { circuit, source, evidence, suspecting } = request;
  const solved = solveStage(circuit, source);
  if (!solved.ok) return solved;
  const spots = askedSpots(circuit, evidence, solved.value.network.nodes.keys());
  const first = yield* within(0, 0.45, worldSteps(request, circuit, spots, []));
  if (first === null) return refusal(circuit);
  const off = offRails(circuit, first.catalogue, evidence.told);
  const asMeasured =
    off.length === 0 ? null : yield* within(0.45, 0.7, worldSteps(request, withRails(circuit, off), spots, off));
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
    // Where no single fault explains, the board is not healthy either.
    beliefs: explained ? leading.beliefs : { ...leading.beliefs, healthy: { log: -Infinity, square: Infinity } },
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
      parts: byPart(
        leastShare,
        candidates.map((each) => ({ faults: each.faults, share: shareOf(each) })),
      ),
      ties: tiesOf(
        leading,
        told.filter((each) => shareOf(each) >= tieShare),
      ),
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

function notesOf({ told, meter, accounted }: Evidence): readonly string[] {
  const cold = told.some(({ unit }) => unit === 'Ω');
  return [
    ...(told.length === 0 ? ['There are no readings yet: the order is that of how often each fault is met.'] : []),
    ...(accounted.length === 0 ? [] : [`The pops are put down to ${accounted.join(', ')}, as pulled.`]),
    ...(cold
      ? [
          'Cold resistances: everything unplugged, capacitors charged, and no junction conducts at the test voltage (0.2 V and less).',
        ]
      : []),
    ...('resistance' in meter && meter.resistance === Infinity
      ? ['No meter is named: readings are taken as exact.']
      : []),
  ];
}

function refusal({ parts }: Circuit): Outcome<SuspectAnswer> {
  const place = parts[0]?.place ?? { file: 'board', line: 1, column: 1 };
  return {
    ok: false,
    diagnostics: [{ code: 'no-bias', place, message: 'the board cannot be linearised at its bias' }],
  };
}
