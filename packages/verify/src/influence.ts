import { logFrequencies } from '@curvewright/curves';
import type { Limits } from '@curvewright/board';
import {
  biasSensitivities,
  gainSensitivities,
  unknownOf,
  type BiasSensitivities,
  type GainSensitivities,
} from '@curvewright/network';
import { bareName, nodesOfChannel } from './node-volts.ts';
import { ownTolerance, type OwnTolerance } from './own-tolerance.ts';
import type { Stage } from './stage.ts';

/** What one percent more of each value and figure moves, to first order and with the bias moving along. */
export interface InfluenceAnswer {
  /** The limits' deviation band, in which a part's `worst` is looked for. */
  readonly band: { readonly fromHz: number; readonly toHz: number };
  /** Parts of the other channel are left out of a channel where they move less than this, per percent. */
  readonly floor: { readonly db: number; readonly mv: number };
  readonly channels: readonly ChannelInfluence[];
}

export interface ChannelInfluence {
  readonly name: string;
  /** What moves deviation in the band most comes first. */
  readonly parts: readonly Influence[];
  /** Rails by their node, the load as `load@left`; in the same order. */
  readonly supplyAndLoad: readonly Influence[];
}

export interface Influence {
  readonly ref: string;
  /** Under the file's key: `value`, `esr`, `hFE`, … */
  readonly parameter: string;
  /** What the percent is of: SI, a ratio for an op-amp's gain and PSRR. */
  readonly nominal: number;
  readonly tolerance: OwnTolerance | null;
  /** Of the gain at 1 kHz. */
  readonly gainDbPerPercent: number;
  /** Re 1 kHz. */
  readonly deviationDbPerPercent: readonly { readonly hz: number; readonly db: number }[];
  readonly nodeMvPerPercent: readonly { readonly node: string; readonly mv: number }[];
  /** Where in the band deviation moves most; `atToleranceDb` is the wider side of the tolerance times the slope, a magnitude. */
  readonly worst: { readonly hz: number; readonly dbPerPercent: number; readonly atToleranceDb: number | null };
}

const reference = 1000;

/** Points per decade on which the band is searched; slopes over frequency are as smooth as the curve itself. */
const bandDensity = 12;

/** A thousandth of what the bench resolves for a percent, and the volts a millivolt meter cannot show. */
const floor = { db: 1e-6, mv: 1e-3 };

/** Null where the stage is singular at its bias. */
export function influenceAnswer(stage: Stage, limits: Limits, frequencies: readonly number[]): InfluenceAnswer | null {
  const bias = biasSensitivities(stage.network, stage.point);
  if (bias === null) return null;
  const { from, to } = limits.deviation;
  const band = [...logFrequencies(from, to, bandDensity)];
  const gains = gainSensitivities(stage.small, bias, Float64Array.of(reference, ...frequencies, ...band));
  return {
    band: { fromHz: from, toHz: to },
    floor,
    channels: stage.circuit.channels.map(({ name }, c) => {
      const rows = bias.parameters.map((_, p) => influenceOf({ stage, bias, gains }, c, p, frequencies.length));
      const ranked = rows.toSorted((a, b) => Math.abs(b.worst.dbPerPercent) - Math.abs(a.worst.dbPerPercent));
      const channelOf = new Map(stage.circuit.parts.map(({ ref, channel }) => [ref, channel]));
      return {
        name,
        parts: ranked.filter((row) => {
          const own = channelOf.get(row.ref);
          return own !== undefined && (own === null || own === name || isAboveFloor(row));
        }),
        supplyAndLoad: ranked.filter(
          (row) => !channelOf.has(row.ref) && (!row.ref.startsWith('load@') || row.ref === `load@${name}`),
        ),
      };
    }),
  };
}

interface Sensitive {
  readonly stage: Stage;
  readonly bias: BiasSensitivities;
  readonly gains: GainSensitivities;
}

/** The solved frequencies are 1 kHz, then `asked` that were asked for, then the band's. */
function influenceOf({ stage, bias, gains }: Sensitive, channel: number, index: number, asked: number): Influence {
  const { ref, parameter, nominal } = bias.parameters[index]!;
  const db = (n: number): number => dbPerPercent(gains, channel, index, n);
  const gain = db(0);
  const deviation = [...gains.frequencies].map((hz, n) => ({ hz, db: db(n) - gain })).slice(1);
  const worst = deviation.slice(asked).reduce((most, each) => (Math.abs(each.db) > Math.abs(most.db) ? each : most));
  const part = stage.circuit.parts.find((each) => each.ref === ref);
  const tolerance = part === undefined ? null : ownTolerance(part, parameter);
  const { name } = stage.circuit.channels[channel]!;
  return {
    ref,
    parameter,
    nominal,
    tolerance,
    gainDbPerPercent: gain,
    deviationDbPerPercent: deviation.slice(0, asked),
    nodeMvPerPercent: nodesOfChannel(stage, name).map((node) => ({
      node: bareName(node),
      mv: 10 * bias.moves[index]![unknownOf(stage.network, node)]!,
    })),
    worst: {
      hz: worst.hz,
      dbPerPercent: worst.db,
      atToleranceDb: tolerance === null ? null : 100 * Math.max(tolerance.minus, tolerance.plus) * Math.abs(worst.db),
    },
  };
}

/** d(20 lg|H|) for a hundredth more: 20/ln 10 · Re(dH/H) / 100. */
function dbPerPercent({ gains, slopes }: GainSensitivities, channel: number, index: number, n: number): number {
  const [re, im] = [gains[channel]![2 * n]!, gains[channel]![2 * n + 1]!];
  const slope = slopes[channel]![index]!;
  return (0.2 / Math.LN10) * ((re * slope[2 * n]! + im * slope[2 * n + 1]!) / (re * re + im * im));
}

function isAboveFloor({ gainDbPerPercent, deviationDbPerPercent, worst, nodeMvPerPercent }: Influence): boolean {
  const decibels = [gainDbPerPercent, worst.dbPerPercent, ...deviationDbPerPercent.map(({ db }) => db)];
  return decibels.some((db) => Math.abs(db) >= floor.db) || nodeMvPerPercent.some(({ mv }) => Math.abs(mv) >= floor.mv);
}
