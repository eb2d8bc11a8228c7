import type { Capacitor, Part } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import type { Probe } from '../figure.ts';
import { movesOf } from '../position-effects.ts';
import { otherwise, taught, taughtParts, withPart, type LessonBench } from './lesson-bench.ts';

/** One capacitor with a leakage, and with an ESR: which of them moves the voltages, which the signal. */
export interface LossLesson {
  readonly ref: string;
  readonly farads: number;
  /** The node that a leakage moves most, and its V as drawn. */
  readonly node: string;
  readonly drawnV: number;
  /** By Ω, ascending: of ESR, then of leakage. */
  readonly esr: readonly LossPoint[];
  readonly leakage: readonly LossPoint[];
  /** The leakage that is asked for. */
  readonly asked: LossPoint;
}

export interface LossPoint {
  readonly ohms: number;
  /** At the node. */
  readonly volts: number;
  /** What it moves at 20 Hz re 1 kHz and of the gain at 1 kHz, dB. */
  readonly at20HzDb: number;
  readonly gainDb: number;
}

/** A bad electrolytic's ESR, and leakages from sound to ruined; common practice, no source. */
const esrOhms = [1, 3, 10, 30, 100];
const leakOhms = [30e3, 100e3, 300e3, 1e6, 3e6, 10e6];
const askedOhms = 300e3;

/** V that a leakage moves at least to be worth a lesson. */
const least = 0.02;

/** On the capacitor whose leakage moves the bias most; null where none moves it. */
export function lossLesson(bench: LessonBench): LossLesson | null {
  const moved = taughtParts(bench)
    .filter((part): part is Capacitor => part.kind === 'capacitor' && part.channel !== null)
    .flatMap((part) => {
      const leaky = withLoss(bench, part.ref, { leakage: askedOhms });
      return leaky === null ? [] : [{ part, moves: movesOf(leaky, bench, taught) }];
    });
  const most = moved.toSorted((a, b) => Math.abs(b.moves.nodeMv) - Math.abs(a.moves.nodeMv))[0];
  if (most === undefined || Math.abs(most.moves.nodeMv) < 1000 * least) return null;
  const { part, moves } = most;
  const node = fullName(bench, moves.node);
  const volts = ({ stage }: Probe): number => nodeVolts(stage.network, stage.point, node);
  const pointAt = (ohms: number, key: 'esr' | 'leakage'): readonly LossPoint[] => {
    const other = withLoss(bench, part.ref, { [key]: ohms });
    if (other === null) return [];
    const { at20HzDb, gainDb } = movesOf(other, bench, taught);
    return [{ ohms, volts: volts(other), at20HzDb, gainDb }];
  };
  const leakage = leakOhms.flatMap((ohms) => pointAt(ohms, 'leakage'));
  const asked = leakage.find(({ ohms }) => ohms === askedOhms);
  if (asked === undefined) return null;
  return {
    ...{ ref: part.ref, farads: part.farads, node: moves.node, drawnV: volts(bench), leakage, asked },
    esr: esrOhms.flatMap((ohms) => pointAt(ohms, 'esr')),
  };
}

function withLoss(
  bench: LessonBench,
  ref: string,
  loss: Pick<Capacitor, 'esr'> | Pick<Capacitor, 'leakage'>,
): Probe | null {
  return otherwise(
    bench,
    withPart(bench.stage.circuit, ref, (part): Part => ({ ...(part as Capacitor), ...loss })),
  );
}

/** The taught channel's own node of this name, or the shared one. */
export function fullName({ stage }: Probe, node: string): string {
  const channel = stage.circuit.channels[taught]?.name ?? '';
  const own = `${node}@${channel}`;
  return stage.network.nodes.has(own) ? own : node;
}
