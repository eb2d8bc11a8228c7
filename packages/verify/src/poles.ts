import type { Board, Circuit, Outcome } from '@curvewright/board';
import { compileNetwork, naturalModes, solveBias, type Pole, type Root } from '@curvewright/network';
import { loopMargins, type LoopMargin } from './loop-margin.ts';
import { sourceWords } from './source-words.ts';
import type { Stage } from './stage.ts';

/** Poles and zeros of all channels together, and the margins of the feedback loop. */
export interface PolesAnswer {
  readonly source: string;
  /** Every finite pole, fastest first; both of a pair. */
  readonly poles: readonly PoleRow[];
  readonly zeros: readonly (RootRow & { readonly channel: string })[];
  /** Every pole in the left half of the plane. */
  readonly stable: boolean;
  /** The pair with the highest Q, of all, of those below 20 Hz and of those above 100 kHz; null where there is no pair. */
  readonly worst: PoleRow | null;
  readonly subsonic: PoleRow | null;
  readonly radio: PoleRow | null;
  /** One for each channel's break point; empty where the board names none. */
  readonly loops: readonly LoopMargin[];
  readonly checks: PoleChecks;
  readonly notes: readonly string[];
}

export interface RootRow {
  readonly realPerS: number;
  readonly imagPerS: number;
  /** |s| / 2π. */
  readonly hz: number;
  /** |s| / (2 |Re s|) of a pair; null for a real one, and for a pair without damping. */
  readonly q: number | null;
  /** What the equations leave over with it, as the most by which that could move it, relative. */
  readonly residual: number;
}

export interface PoleRow extends RootRow {
  /** What moves it most, first the one that moves it furthest. */
  readonly parts: readonly PolePart[];
}

/** What one per cent more of a part (its Ω, F, H; an op-amp's GBW; of a transistor or valve one more per hundred side by side) does. */
export interface PolePart {
  readonly ref: string;
  readonly hzPercentPerPercent: number;
  /** Null for a real pole. */
  readonly qPercentPerPercent: number | null;
}

/** What would show a pole lost or counted twice. */
export interface PoleChecks {
  /** Rank of the capacitances; less what sources and ideal amplifiers hold it is the count of poles. */
  readonly rank: number;
  readonly count: number;
  readonly largestResidual: number;
  /** Sum of poles, sum of reciprocals against traces, relative; sum of logarithms against determinants. */
  readonly sumError: number;
  readonly reciprocalSumError: number;
  readonly logProductError: number;
}

const [subsonicUpTo, radioFrom] = [20, 100_000];

/** Parts that move a pole less than this fraction of what the first moves are not named, and at most so many. */
const namedFrom = 0.25;
const mostNamed = 6;

/** Loss factors are series resistances here, so the network is compiled anew; `loops` are the board's. */
export function polesAnswer(stage: Stage, loops: Board['loops'], cartridge?: string): Outcome<PolesAnswer> {
  const { circuit, source } = stage;
  const network = compileNetwork(circuit, source, { loss: 'series' });
  const bias = solveBias(network);
  if (!bias.ok) return { ok: false, diagnostics: [bias.diagnostic] };
  const modes = naturalModes(network, bias.point);
  if (modes === null) {
    const { place } = circuit.parts[0]!;
    const message =
      'the circuit has no poles: its equations contradict each other at every frequency; check for parts that oppose each other';
    return { ok: false, diagnostics: [{ code: 'no-bias', place, message }] };
  }
  const poles = modes.poles.map(poleRow);
  const stable = poles.every(({ realPerS }) => realPerS < 0);
  const margins = loopMargins(stage, loops, stable);
  if (!margins.ok) return margins;
  return {
    ok: true,
    value: {
      source: sourceWords(source, cartridge),
      poles,
      zeros: modes.zeros.flatMap(({ channel, zeros }) => zeros.map((zero) => ({ channel, ...rootRow(zero) }))),
      stable,
      worst: sharpest(poles, () => true),
      subsonic: sharpest(poles, ({ hz }) => hz < subsonicUpTo),
      radio: sharpest(poles, ({ hz }) => hz > radioFrom),
      loops: margins.value,
      checks: {
        rank: modes.rank,
        count: poles.length,
        largestResidual: Math.max(0, ...poles.map(({ residual }) => residual)),
        sumError: modes.sumError,
        reciprocalSumError: modes.reciprocalSumError,
        logProductError: modes.logProductError,
      },
      notes: notesOf(circuit),
    },
  };
}

function rootRow({ re, im, residual }: Root): RootRow {
  const size = Math.hypot(re, im);
  const q = im === 0 || re === 0 ? null : size / (2 * Math.abs(re));
  return { realPerS: re, imagPerS: im, hz: size / (2 * Math.PI), q, residual };
}

function poleRow(pole: Pole): PoleRow {
  const ranked = [...pole.sensitivities].toSorted(([, a], [, b]) => Math.hypot(b.re, b.im) - Math.hypot(a.re, a.im));
  const least = namedFrom * Math.hypot(ranked[0]?.[1].re ?? 0, ranked[0]?.[1].im ?? 0);
  const named = ranked.filter(([, { re, im }]) => Math.hypot(re, im) >= least && least > 0).slice(0, mostNamed);
  return {
    ...rootRow(pole),
    parts: named.map(([ref, moves]) => ({
      ref,
      hzPercentPerPercent: moves.re,
      // ln Q = ln |s| − ln |Re s|, and d Re s / Re s = Re(s · d ln s) / Re s.
      qPercentPerPercent:
        pole.im === 0 || pole.re === 0 ? null : moves.re - (moves.re * pole.re - moves.im * pole.im) / pole.re,
    })),
  };
}

/** The pair of highest Q; one that swings without damping, or grows, stands before all others. */
function sharpest(poles: readonly PoleRow[], among: (pole: PoleRow) => boolean): PoleRow | null {
  const damping = ({ realPerS, hz }: PoleRow): number => -realPerS / hz;
  const pairs = poles.filter((pole) => pole.imagPerS > 0 && among(pole));
  return pairs.toSorted((a, b) => damping(a) - damping(b))[0] ?? null;
}

function notesOf({ parts }: Circuit): readonly string[] {
  const lossy = parts.some((part) => part.kind === 'capacitor' && (part.loss ?? 0) > 0);
  return lossy ? ['Loss factors count as a series resistance tan δ/(2π·1 kHz·C), right at 1 kHz.'] : [];
}
