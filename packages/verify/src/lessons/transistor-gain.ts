import type { BipolarType, Part, TypedPart } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import type { Probe } from '../figure.ts';
import { noiseAnswer } from '../noise.ts';
import { movesOf } from '../position-effects.ts';
import { fullName } from './leakage-and-esr.ts';
import { lessonHz, otherwise, taught, taughtParts, withPart, type LessonBench } from './lesson-bench.ts';

export type Bipolar = TypedPart & { readonly type: BipolarType };

/** A transistor with half its hFE: what of the stage follows, and what stays. */
export interface TransistorLesson {
  readonly ref: string;
  readonly typeName: string;
  readonly hFE: number;
  /** Over `lessonHz`, dB. */
  readonly gainDb: Float64Array;
  readonly halvedGainDb: Float64Array;
  /** At 1 kHz, and what half of hFE moves there and at 20 Hz re 1 kHz. */
  readonly at1kHzDb: number;
  readonly halvedAt1kHzDb: number;
  readonly at20HzMoveDb: number;
  /** The node whose bias moves most. */
  readonly node: string;
  readonly nodeV: number;
  readonly nodeMoveV: number;
  readonly hissUv: number;
  readonly halvedHissUv: number;
}

export function isBipolar(part: Part): part is Bipolar {
  return part.kind === 'typed' && (part.type.kind === 'npn' || part.type.kind === 'pnp');
}

/** The part with this many times its hFE at every current. */
function withGainTimes(part: Part, times: number): Part {
  if (!isBipolar(part)) return part;
  const hFE = part.type.hFE.map((point) => ({ ...point, value: point.value * times }));
  return { ...part, type: { ...part.type, hFE } };
}

/** On the transistor whose hFE moves the bias most; null where the board has no bipolar one. */
export function transistorLesson(bench: LessonBench): TransistorLesson | null {
  const halves = taughtParts(bench)
    .filter(isBipolar)
    .flatMap((part) => {
      const half = halved(bench, part.ref);
      return half === null ? [] : [{ part, half, moves: movesOf(half, bench, taught) }];
    });
  const most = halves.toSorted((a, b) => Math.abs(b.moves.nodeMv) - Math.abs(a.moves.nodeMv))[0];
  if (most === undefined) return null;
  const { part, half, moves } = most;
  const curve = ({ reader }: Probe): Float64Array => lessonHz.map((hz) => reader.gainDb(taught, hz));
  const hiss = ({ stage }: Probe): number => noiseAnswer(stage).channels[taught]?.inputAWeightedUv ?? NaN;
  const name = fullName(bench, moves.node);
  return {
    ref: part.ref,
    typeName: part.typeName,
    hFE: part.type.hFE[0]?.value ?? NaN,
    gainDb: curve(bench),
    halvedGainDb: curve(half),
    at1kHzDb: bench.reader.gainDb(taught, 1000),
    halvedAt1kHzDb: half.reader.gainDb(taught, 1000),
    at20HzMoveDb: moves.at20HzDb,
    node: moves.node,
    nodeV: nodeVolts(bench.stage.network, bench.stage.point, name),
    nodeMoveV: moves.nodeMv / 1000,
    hissUv: hiss(bench),
    halvedHissUv: hiss(half),
  };
}

function halved(bench: LessonBench, ref: string): Probe | null {
  return otherwise(
    bench,
    withPart(bench.stage.circuit, ref, (part) => withGainTimes(part, 0.5)),
  );
}
