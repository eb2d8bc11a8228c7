import type { Limits } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { programmeThd, type FurtherAnswers } from './further-answers.ts';
import type { FigureName, Judged } from './judge.ts';
import type { PolesAnswer } from './poles.ts';
import type { Stage } from './stage.ts';

/** A judged number whose answer already names the part that makes it. */
export interface ToldFigure extends Judged {
  readonly ref: string;
  readonly cause: string;
  /** What to look at where it is not good. */
  readonly remedy: string;
}

/** Hiss, hum, crosstalk, overload, distortion, settling and stability, as far as they could be answered. */
export function toldFigures(stage: Stage, answers: FurtherAnswers, limits: Limits): readonly ToldFigure[] {
  const channels = stage.circuit.channels.map((_, channel) => channel);
  const figures = [
    ...channels.flatMap((channel) => hissFigure(answers, limits, channel)),
    ...channels.flatMap((channel) => humFigure(answers, limits, channel)),
    ...channels.flatMap((channel) => crosstalkFigure(answers, limits, channel)),
    ...channels.flatMap((channel) => overloadFigure(answers, limits, channel)),
    ...channels.flatMap((channel) => distortionFigure(answers, limits, channel)),
    ...channels.flatMap((channel) => settleFigure(answers, limits, channel)),
    ...stabilityFigures(stage, answers.poles, limits),
  ];
  return figures.map((each) => (isPart(stage, each.ref) ? each : { ...each, ref: firstPart(stage, each.channel) }));
}

function isPart({ circuit }: Stage, ref: string): boolean {
  return circuit.parts.some((part) => part.ref === ref);
}

/** A finding names one designator, also where a source, a load or no part at all leads. */
function firstPart({ circuit }: Stage, channel: number | null): string {
  const name = channel === null ? null : circuit.channels[channel]!.name;
  const part = circuit.parts.find((each) => name === null || each.channel === name) ?? circuit.parts[0];
  return part?.ref ?? '';
}

function hissFigure({ noise }: FurtherAnswers, limits: Limits, channel: number): readonly ToldFigure[] {
  const hiss = noise.channels[channel]!;
  const ranked = hiss.shares.toSorted((a, b) => b.aWeightedShare - a.aWeightedShare);
  const makers = ranked
    .slice(0, 3)
    .map(({ ref, aWeightedShare }) => `${ref} makes ${printQuantity(aWeightedShare, '%', 2)}`);
  const loudest = ranked[0];
  return [
    {
      ...figure('hiss', channel, hiss.inputAWeightedUv, 'µV', 'at most', limits.hiss, 1e6),
      where: 'A-weighted, input shorted',
      ref: loudest?.ref ?? '',
      cause: makers.join(', '),
      remedy: `a quieter part at ${loudest?.ref ?? 'the first stage'} does most`,
    },
  ];
}

function humFigure({ hum }: FurtherAnswers, limits: Limits, channel: number): readonly ToldFigure[] {
  const humDb = hum.channels[channel]!.humDb;
  const [loudest] = hum.rails
    .flatMap((rail) => ({ rail, millivolts: rail.channels[channel]?.outputMv ?? 0 }))
    .sort((a, b) => b.millivolts - a.millivolts);
  if (humDb === null || loudest === undefined) return [];
  const { rail, millivolts } = loudest;
  const [best] = rail.decouplers
    .map(({ ref, channels }) => ({ ref, db: channels[channel]?.db ?? 0 }))
    .sort((a, b) => b.db - a.db);
  const ripple = `${printQuantity(rail.rippleV ?? 0, 'V')} of ripple on ${rail.rail} leaves ${printQuantity(millivolts / 1000, 'V')}`;
  return [
    {
      ...figure('hum', channel, humDb, 'dB', 'at most', limits.hum),
      where: 're 5 mV programme',
      ref: best?.ref ?? rail.rail,
      cause: best ? `${ripple}; ${best.ref} takes ${best.db.toFixed(1)} dB off it` : ripple,
      remedy: best
        ? `more capacitance at ${best.ref}, or measure the ripple on ${rail.rail}`
        : `measure the ripple on ${rail.rail}`,
    },
  ];
}

function crosstalkFigure({ crosstalk, hum }: FurtherAnswers, limits: Limits, channel: number): readonly ToldFigure[] {
  const separation = crosstalk.channels[channel]?.crosstalkDb ?? null;
  if (separation === null) return [];
  const decouplers = hum.rails.flatMap(({ decouplers: each }) => each.map(({ ref }) => ref));
  const through = decouplers.length > 0 ? `, held by ${[...new Set(decouplers)].join(', ')}` : '';
  return [
    {
      ...figure('crosstalk', channel, separation, 'dB', 'at least', limits.crosstalk),
      where: `at ${printQuantity(limits.crosstalk.at, 'Hz')}`,
      ref: decouplers[0] ?? '',
      cause: `the other channel comes through the rails and nodes that both share${through}`,
      remedy: `measure ${decouplers[0] ?? 'the supply decoupling'}`,
    },
  ];
}

function overloadFigure({ headroom }: FurtherAnswers, limits: Limits, channel: number): readonly ToldFigure[] {
  const overload = headroom[channel]?.overload.find(({ hz }) => hz === limits.overload.at);
  if (overload === undefined) return [];
  const { hz, inputMv, by, limitedBy } = overload;
  if (inputMv === null) return [];
  return [
    {
      ...figure('overload', channel, inputMv, 'mV', 'at least', limits.overload, 1000),
      hz,
      where: `at ${printQuantity(hz, 'Hz')}`,
      ref: limitedBy ?? '',
      cause: `${limitedBy ?? 'the stage'} limits: ${by === 'compression' ? '1 dB of compression' : '1 % of distortion'} comes first`,
      remedy: `look at the bias of ${limitedBy ?? 'the stage'}`,
    },
  ];
}

function distortionFigure({ headroom }: FurtherAnswers, limits: Limits, channel: number): readonly ToldFigure[] {
  const answer = headroom[channel];
  const thd = answer === undefined ? null : programmeThd(answer);
  if (thd === null) return [];
  const limitedBy = answer?.overload[0]?.limitedBy ?? null;
  return [
    {
      ...figure('distortion', channel, thd, '%', 'at most', limits.distortion, 100),
      hz: 1000,
      where: 'of 5 mV at 1 kHz',
      ref: limitedBy ?? '',
      cause: limitedBy === null ? 'no part stands out' : `${limitedBy} bends first as the level rises`,
      remedy: `look at the bias of ${limitedBy ?? 'the stage'}`,
    },
  ];
}

function settleFigure({ settle, poles }: FurtherAnswers, limits: Limits, channel: number): readonly ToldFigure[] {
  if (settle === null) return [];
  const { settleS } = settle.channels[channel]!;
  const slowest = poles?.poles.toSorted((a, b) => Math.abs(a.realPerS) - Math.abs(b.realPerS))[0];
  const parts = slowest?.parts.slice(0, 2).map(({ ref }) => ref) ?? [];
  const seconds = slowest ? printQuantity(1 / Math.abs(slowest.realPerS), 's', 2) : '';
  return [
    {
      ...figure('settle', channel, settleS ?? Infinity, 's', 'at most', limits.settle),
      where: `to ${printQuantity(settle.withinV, 'V')} after switch-on`,
      ref: parts[0] ?? '',
      cause:
        parts.length > 0
          ? `the slowest time constant, ${seconds}, is that of ${parts.join(' and ')}`
          : 'nothing is slow',
      remedy: `a smaller ${parts[0] ?? 'capacitor'} settles sooner; mute until then`,
    },
  ];
}

/** The worst pair of poles, and each stated loop's margin: a circuit that swings by itself fails, all else is at worst a look. */
function stabilityFigures(stage: Stage, poles: PolesAnswer | null, limits: Limits): readonly ToldFigure[] {
  if (poles === null) return [];
  const { worst, loops, stable } = poles;
  const parts = worst?.parts.slice(0, 3).map(({ ref }) => ref) ?? [];
  const pair: ToldFigure = {
    ...figure('stability', null, stable ? (worst?.q ?? 0) : Infinity, 'Q', 'at most', {
      good: limits.stability.q,
      look: Number.MAX_VALUE,
    }),
    hz: worst?.hz ?? null,
    where: worst ? `at ${printQuantity(worst.hz, 'Hz')}` : 'no pair of poles',
    ref: parts[0] ?? '',
    cause: stable
      ? worst
        ? `the worst pair is moved most by ${parts.join(', ')}`
        : 'every pole is real'
      : `the circuit swings by itself, at ${parts.join(', ')}`,
    remedy: `look at ${parts.join(', ')} and the compensation capacitor`,
  };
  const margins = loops.flatMap(({ channel, lead, marginDeg }): readonly ToldFigure[] => {
    if (marginDeg === null || !stable) return [];
    const index = stage.circuit.channels.findIndex(({ name }) => name === channel);
    const ref = lead.split('.')[0] ?? lead;
    return [
      {
        ...figure('stability', index < 0 ? null : index, marginDeg, '°', 'at least', {
          good: limits.stability.margin,
          look: -Number.MAX_VALUE,
        }),
        where: `margin of the loop at ${lead}`,
        ref,
        cause: `phase margin where the loop's gain is 1, broken at ${lead}`,
        remedy: 'look at the compensation capacitor and the load capacitance',
      },
    ];
  });
  return [pair, ...margins];
}

/** `scale` turns the limit's SI unit into the figure's. */
function figure(
  what: FigureName,
  channel: number | null,
  value: number,
  unit: Judged['unit'],
  side: Judged['side'],
  limit: { readonly good: number; readonly look: number },
  scale: number = 1,
): Omit<Judged, 'where'> {
  return { what, channel, value, unit, side, good: limit.good * scale, look: limit.look * scale, hz: null };
}
