import type { FigureName, Judged } from '../judge.ts';
import { bareName } from '../node-volts.ts';
import { reachOf, type Reach } from './bands.ts';
import { centralSlopes, cornersOf, type Corner } from './corner.ts';
import { driversOf, type Driver } from './drivers.ts';
import { reachDb, reachHz, reachVolts, type NodeSpread, type ReachDb, type ReachHz } from './reach.ts';
import type { SpreadRunner } from './runner.ts';
import { spreadFigures } from './spread-figures.ts';
import { gather, type Sample, type Tally } from './tally.ts';
import { shareAt, verdictsOf, yieldOf, type FigureVerdicts } from './yield.ts';

/** How far healthy boards of one drawing lie apart. */
export interface SpreadAnswer {
  /** Boards drawn, and how many of them have no bias. */
  readonly boards: number;
  readonly noBias: number;
  readonly seed: number;
  /** Fraction of the boards on which no figure fails, and on which every figure is good. */
  readonly yield: number;
  readonly yieldGood: number;
  readonly channels: readonly ChannelSpread[];
  /** The first channel over the last; null for one channel. */
  readonly balance: BalanceSpread | null;
  readonly figures: readonly FigureSpread[];
  /** Boards that the drivers speak of: those that fail, or, where none does, those that are not good. */
  readonly driversOf: 'fail' | 'look';
  /** Parts that stand out on those boards, most first; `channel` is the name of the limit's. */
  readonly drivers: readonly (Omit<Driver, 'channel'> & { readonly channel: string | null })[];
  readonly corners: readonly (Omit<Corner, 'channel'> & { readonly channel: string | null })[];
  /** Frequencies that were solved anew with pivoting, over all boards. */
  readonly resolved: number;
  /** Designators whose tolerance is the usual one of their build. */
  readonly byBuild: readonly string[];
  /** Designators held at their values, since the file states no tolerance, build or span of hFE. */
  readonly exact: readonly string[];
  /** Groups of designators that were drawn alike. */
  readonly alike: readonly (readonly string[])[];
}

export interface ChannelSpread {
  readonly name: string;
  /** Deviation. */
  readonly bands: readonly Band[];
  /** At 1 kHz. */
  readonly gain: ReachDb;
  /** Where deviation falls through −3 dB below and above 1 kHz; null under 2 Hz or over 100 kHz on every board. */
  readonly rolloff: ReachHz | null;
  readonly rolloffHigh: ReachHz | null;
  /** Its own nodes and the shared ones. */
  readonly nodes: readonly NodeSpread[];
}

export interface Band extends ReachDb {
  readonly hz: number;
}

export interface BalanceSpread extends ReachDb {
  /** Level of the first channel over the last; what stands beside is the furthest from 0 in the balance limit's band. */
  readonly bands: readonly Band[];
}

/** A limit against all boards; the reach is in the figure's unit. */
export interface FigureSpread extends Reach {
  readonly what: FigureName;
  readonly channel: string | null;
  readonly where: string;
  readonly unit: Judged['unit'];
  readonly nominal: number;
  /** Fractions of the boards, which with those that have no bias make 1. */
  readonly shareGood: number;
  readonly shareLook: number;
  readonly shareFail: number;
}

/** What the tallies so far come to, in whatever order they came; at least one board. */
export function spreadAnswer(runner: SpreadRunner, tallies: readonly Tally[]): SpreadAnswer {
  const { plan, layout, sweep, draws } = runner;
  const sample = gather(tallies);
  const verdicts = spreadFigures(runner).map((figure) => verdictsOf(figure, sample));
  const yields = yieldOf(verdicts, sample);
  const nameOf = (channel: number | null): string | null =>
    channel === null ? null : plan.circuit.channels[channel]!.name;
  const drivers = driversOf(verdicts, draws, sample, plan.seed);
  const bands = (first: number): readonly Band[] =>
    sweep.told.map((i, n) => ({ hz: sweep.hz[i]!, ...reachDb(sample.column(first + n)) }));
  const nodes = layout.nodes.map((node, n) => ({
    node,
    ...reachVolts(sample.column(layout.volts + n), runner.nominal[layout.volts + n]!),
  }));
  return {
    boards: sample.boards,
    noBias: sample.noBias,
    seed: plan.seed,
    yield: yields.passing,
    yieldGood: yields.good,
    channels: plan.circuit.channels.map(({ name }, c) => ({
      name,
      bands: bands(layout.deviation + c * sweep.told.length),
      gain: reachDb(sample.column(layout.gain + c)),
      rolloff: reachHz(sample.column(layout.rolloff + c)),
      rolloffHigh: reachHz(sample.column(layout.rolloffHigh + c)),
      nodes: nodes.filter(({ node }) => node.endsWith(`@${name}`) || !node.includes('@')).map(bare),
    })),
    balance:
      plan.circuit.channels.length < 2
        ? null
        : { ...reachDb(sample.column(layout.balance)), bands: bands(layout.difference) },
    figures: verdicts.map((each) => figureSpread(each, sample, nameOf)),
    driversOf: drivers.of,
    drivers: drivers.parts.map((driver) => ({ ...driver, channel: nameOf(driver.channel) })),
    corners: cornersOf(runner, centralSlopes(runner)).map((corner) => ({
      ...corner,
      channel: nameOf(corner.channel),
    })),
    resolved: sample.resolved,
    byBuild: draws.byBuild,
    exact: draws.exact,
    alike: draws.groups.filter(({ refs }) => refs.length > 1).map(({ refs }) => refs),
  };
}

function figureSpread(
  { figure, values, levels }: FigureVerdicts,
  { boards }: Sample,
  nameOf: (channel: number | null) => string | null,
): FigureSpread {
  return {
    what: figure.what,
    channel: nameOf(figure.channel),
    where: figure.where,
    unit: figure.unit,
    nominal: figure.value,
    ...reachOf(values),
    shareGood: shareAt(levels, 0, boards),
    shareLook: shareAt(levels, 1, boards),
    shareFail: shareAt(levels, 2, boards),
  };
}

function bare(spread: NodeSpread): NodeSpread {
  return { ...spread, node: bareName(spread.node) };
}
