import type { Limits, StockPart } from '@curvewright/board';
import type { Series } from '@curvewright/quantity';
import { channelContent } from '../channel-twins.ts';
import type { Stage } from '../stage.ts';
import type { Steps } from '../steps.ts';
import { channelBench, type TrimFigures } from './channel-bench.ts';
import { drawerParts, furthestApart, offerOf, preferredParts, type Composite, type Offer } from './composites.ts';
import { largest } from './trim-model.ts';
import type { TrimPlace } from './trim-place.ts';
import { trimSearch } from './trim-search.ts';

/** What is to be brought back, and how near: the curve within so many dB, or its three time constants within a fraction. */
export type TrimWithin = { readonly db: number } | { readonly fraction: number };

export interface TrimRequest {
  readonly within: TrimWithin;
  /** Null: from the drawer alone. */
  readonly series: Series | null;
  readonly stock: readonly StockPart[];
}

/** Parts and pairs of parts that bring an equaliser network back, solved on the stage itself. */
export interface TrimAnswer {
  readonly within: TrimWithin;
  readonly channels: readonly TrimChannel[];
}

export interface TrimChannel {
  readonly name: string;
  readonly before: TrimFigures;
  readonly places: readonly TrimWanted[];
  /** Those that hold first, by number of pieces; then by what they leave. */
  readonly options: readonly TrimOption[];
  /** dB or a fraction, as `within`: how far the search's model lay off what was solved. */
  readonly miss: number;
}

export interface TrimWanted {
  readonly ref: string;
  readonly kind: 'resistor' | 'capacitor';
  /** Ω or F that stand there now, and that would serve best if any could be had. */
  readonly was: number;
  readonly best: number;
  /** The most that one percent of it moves: dB of the curve, or a fraction of a time constant. */
  readonly perPercent: number;
}

export interface TrimOption extends TrimFigures {
  readonly pieces: number;
  readonly holds: boolean;
  /** dB or a fraction, as `within`: the most that it leaves. */
  readonly leaves: number;
  readonly choices: readonly (Composite & { readonly ref: string })[];
}

/** Options solved and kept for each number of pieces: a curve takes a tenth of a millisecond, poles and zeros fifty. */
const curveSearch = { solvedEach: 80, keptEach: 3 };
const timesSearch = { solvedEach: 5, keptEach: 3 };

/** Values looked at: so many times more or less than what stands there. */
const span = 3;

/** Null where the stage cannot be solved over the band, or has no such time constants. */
export function* trimSteps(
  stage: Stage,
  limits: Limits,
  places: readonly TrimPlace[],
  request: TrimRequest,
): Steps<TrimAnswer | null> {
  const { circuit } = stage;
  const channels: TrimChannel[] = [];
  for (const [c, { name }] of circuit.channels.entries()) {
    const parts = places.map((place) => place.parts[c]!);
    const refs = parts.map(({ ref }) => ref);
    const twin = circuit.channels.findIndex(
      (_, n) => n < c && channelContent(circuit, n) === channelContent(circuit, c),
    );
    const known = channels[twin];
    const share = (done: number): number => (c + done) / circuit.channels.length;
    const found = known === undefined ? yield* trimmed(stage, limits, c, parts, request, share) : forTwin(known, refs);
    if (found === null) return null;
    channels.push({ ...found, name });
  }
  return { within: request.within, channels };
}

function* trimmed(
  stage: Stage,
  limits: Limits,
  channel: number,
  parts: readonly TrimPlace['parts'][number][],
  request: TrimRequest,
  share: (done: number) => number,
): Steps<Omit<TrimChannel, 'name'> | null> {
  const refs = parts.map(({ ref }) => ref);
  const start = parts.map((part) => (part.kind === 'resistor' ? part.ohms : part.farads));
  const bench = channelBench(stage, limits, channel, refs);
  if (bench === null) return null;
  const { within } = request;
  const [residuals, effort, allowed] =
    'db' in within ? [bench.curveLeft, curveSearch, within.db] : [bench.timesLeft, timesSearch, within.fraction];
  const enough = (composites: readonly Composite[]): boolean => hasAll(composites, stage.circuit.channels.length);
  const search = trimSearch(residuals, start, offersFor(parts, start, request), enough, effort);
  const before = bench.figures(start);
  if (search === null || before === null) return null;
  yield share(0.5);
  const options: TrimOption[] = [];
  for (const [n, { composites, pieces, worst }] of search.found.entries()) {
    const figures = bench.figures(composites.map(({ value }) => value));
    if (figures === null) continue;
    const choices = composites.map((composite, k) => ({ ref: refs[k]!, ...composite }));
    options.push({ ...figures, pieces, leaves: worst, holds: worst <= allowed, choices });
    yield share(0.5 + (0.5 * n) / search.found.length);
  }
  const { centre, slopes } = search.model;
  return {
    before,
    places: parts.map(({ ref, kind }, k) => ({
      ...{ ref, kind, was: start[k]!, best: Math.exp(centre[k]!) },
      perPercent: largest(slopes[k]!) / 100,
    })),
    options: ranked(options),
    miss: search.miss,
  };
}

/** What may stand in each place. */
function offersFor(
  parts: readonly { readonly kind: 'resistor' | 'capacitor' }[],
  start: readonly number[],
  { series, stock }: TrimRequest,
): readonly Offer[] {
  return parts.map(({ kind }, k) => {
    const [least, most] = [start[k]! / span, start[k]! * span];
    // Beside a value of the span a pair may hold one far larger or smaller.
    const preferred = series === null ? [] : preferredParts(kind, series, least / furthestApart, most * furthestApart);
    return offerOf(kind, [...drawerParts(stock, kind), ...preferred], least, most);
  });
}

/** Every channel may want the same. */
function hasAll(composites: readonly Composite[], channels: number): boolean {
  const parts = composites.flatMap((each) => each.parts);
  return parts.every(
    ({ stock, quantity }) =>
      stock === null || channels * parts.filter((each) => each.stock === stock).length <= quantity,
  );
}

function ranked(options: readonly TrimOption[]): readonly TrimOption[] {
  return options.toSorted((a, b) => {
    if (a.holds !== b.holds) return a.holds ? -1 : 1;
    return (a.holds ? a.pieces - b.pieces : 0) || a.leaves - b.leaves;
  });
}

function forTwin(channel: TrimChannel, refs: readonly string[]): TrimChannel {
  return {
    ...channel,
    places: channel.places.map((place, k) => ({ ...place, ref: refs[k]! })),
    options: channel.options.map((option) => ({
      ...option,
      choices: option.choices.map((choice, k) => ({ ...choice, ref: refs[k]! })),
    })),
  };
}
