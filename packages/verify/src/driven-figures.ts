import type { Limits } from '@curvewright/board';
import { highestHarmonic } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import type { Probe } from './figure.ts';
import { programmeThd, type FurtherReader } from './further-answers.ts';
import { neighboursOf } from './neighbours.ts';
import { toldFigure, type Kind, type ToldFigure } from './told-figure.ts';

const overloadKind: Kind = { what: 'overload', unit: 'mV', side: 'at least', dear: true, scale: 1000 };
const distortionKind: Kind = { what: 'distortion', unit: '%', side: 'at most', dear: true, scale: 100 };

/** A stage that is not overloaded by all that was tried has that as its figure: its overload lies above. No figure where no level was found steady. */
export function overloadFigure(
  probe: Probe,
  further: FurtherReader,
  { overload: limit }: Limits,
  channel: number,
): readonly ToldFigure[] {
  const at = (other: Probe): ReturnType<typeof overloadOf> => overloadOf(further, other, channel, limit.at);
  const overload = at(probe);
  if (overload === undefined) return [];
  const { hz, inputMv, triedMv, by, limitedBy } = overload;
  if (inputMv === null && triedMv === 0) return [];
  const read = (other: Probe): number => at(other)?.inputMv ?? at(other)?.triedMv ?? NaN;
  const stopped = inputMv === null && triedMv < 1000 * limit.good;
  const limits = `${limitedBy ?? 'the stage'} limits: ${by === 'compression' ? '1 dB of compression' : '1 % of distortion'} comes first`;
  const all = `no overload up to ${printQuantity(triedMv / 1000, 'V')}${stopped ? ', where the computation found no steady state' : ', the most that was tried'}`;
  return [
    toldFigure(overloadKind, channel, stopped ? { ...limit, look: -Infinity } : limit, probe, read, {
      hz,
      stays: (other) =>
        inputMv !== null && inputMv > roomy * 1000 * limit.good && isDrivenAlike(probe, other, channel, hz),
      where: `at ${printQuantity(hz, 'Hz')}`,
      named: limitedBy === null ? [] : [limitedBy],
      asked: limitedBy === null ? [] : neighboursOf(probe.stage.circuit, [limitedBy], 'resistor'),
      cause: inputMv === null ? all : limits,
      otherwise: `look at the bias of ${limitedBy ?? 'the stage'}`,
    }),
  ];
}

/** No figure where no steady state was found for the programme. */
export function distortionFigure(
  probe: Probe,
  further: FurtherReader,
  { distortion: limit }: Limits,
  channel: number,
): readonly ToldFigure[] {
  const read = (other: Probe): number => {
    const driven = further.headroom(other)[channel];
    return (driven === undefined ? null : programmeThd(driven)) ?? NaN;
  };
  if (Number.isNaN(read(probe))) return [];
  const limitedBy = further.headroom(probe)[channel]?.overload[0]?.limitedBy ?? null;
  return [
    toldFigure(distortionKind, channel, limit, probe, read, {
      hz: 1000,
      stays: (other) => read(probe) * roomy < 100 * limit.good && isDrivenAlike(probe, other, channel, 1000),
      where: 'of 5 mV at 1 kHz',
      named: limitedBy === null ? [] : [limitedBy],
      asked: limitedBy === null ? [] : neighboursOf(probe.stage.circuit, [limitedBy], 'resistor'),
      cause: limitedBy === null ? 'no part stands out' : `${limitedBy} bends first as the level rises`,
      otherwise: `look at the bias of ${limitedBy ?? 'the stage'}`,
    }),
  ];
}

/** Times inside its limit from which a figure stays inside where the stage is driven alike. */
const roomy = 1.1;

/**
 * No voltage of the bias moves by a millivolt, and neither the gain at the frequency nor at any of its ten harmonics by 0.1 dB (1 %): every
 * part is then driven as it was, and what it bends comes to the output as it did.
 */
function isDrivenAlike(probe: Probe, other: Probe, channel: number, hz: number): boolean {
  const [before, after] = [probe.stage.point.x, other.stage.point.x];
  if (before.length !== after.length || before.some((volts, n) => Math.abs(volts - after[n]!) > 1e-3)) return false;
  const moves = (harmonic: number): number =>
    Math.abs(other.reader.gainDb(channel, harmonic * hz) - probe.reader.gainDb(channel, harmonic * hz));
  return Array.from({ length: highestHarmonic }, (_, n) => moves(n + 1)).every((db) => db < 0.1);
}

function overloadOf(
  further: FurtherReader,
  probe: Probe,
  channel: number,
  at: number,
): ReturnType<FurtherReader['headroom']>[number]['overload'][number] | undefined {
  return further.headroom(probe)[channel]?.overload.find(({ hz }) => hz === at);
}
