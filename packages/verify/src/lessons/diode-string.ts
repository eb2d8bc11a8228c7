import type { Circuit, DiodeType, Part, TypedPart } from '@curvewright/board';
import { deviceCurrents, nodeVolts } from '@curvewright/network';
import type { Probe } from '../figure.ts';
import { movesOf } from '../position-effects.ts';
import { rebuilt, taught, taughtParts, type LessonBench } from './lesson-bench.ts';

/** A diode of the board, and one or several ordinary ones in its place. */
export interface DiodeLesson {
  readonly ref: string;
  /** As drawn: A through it and V across it. */
  readonly amps: number;
  readonly volts: number;
  /** The ordinary one's law: V at 1 mA, and V more for ten times the current. */
  readonly ordinary: { readonly at1mA: number; readonly perDecade: number };
  /** The drawn one's. */
  readonly own: { readonly at1mA: number; readonly perDecade: number };
  /** One ordinary diode, two and three. */
  readonly strings: readonly DiodeString[];
  /** How many come nearest. */
  readonly nearest: number;
}

export interface DiodeString {
  readonly count: number;
  readonly volts: number;
  /** The node whose bias moves most, and by how much. */
  readonly node: string;
  readonly moveV: number;
  readonly gainDb: number;
}

/** A small silicon diode; from memory, as its kind is sold. */
const ordinary: DiodeType = {
  kind: 'diode',
  VF: [
    { value: 0.63, at: 1e-3 },
    { value: 0.74, at: 10e-3 },
  ],
};

const most = 3;

/** Null where the board has no diode with a current through it. */
export function diodeLesson(bench: LessonBench): DiodeLesson | null {
  const lessons = taughtParts(bench).flatMap((part) => (isDiode(part) ? (lessonOn(bench, part) ?? []) : []));
  return lessons[0] ?? null;
}

type Diode = TypedPart & { readonly type: DiodeType };

function isDiode(part: Part): part is Diode {
  return part.kind === 'typed' && part.type.kind === 'diode';
}

function lessonOn(bench: LessonBench, diode: Diode): DiodeLesson | null {
  const amps = currentThrough(bench, diode.ref);
  if (!(amps > 1e-6)) return null;
  const volts = across(bench, diode);
  const strings = Array.from({ length: most }, (_, n) => n + 1).flatMap((count) => stringOf(bench, diode, count) ?? []);
  const distance = (string: DiodeString): number => Math.abs(string.volts - volts);
  const nearest = strings.toSorted((a, b) => distance(a) - distance(b))[0];
  if (nearest === undefined) return null;
  return {
    ...{ ref: diode.ref, amps, volts, strings, nearest: nearest.count },
    ordinary: lawOf(ordinary),
    own: lawOf(diode.type),
  };
}

function stringOf(bench: LessonBench, diode: Diode, count: number): DiodeString | null {
  const inner = (n: number): string => `${diode.ref}.${n}-${n + 1}`;
  const { anode = '', cathode = '' } = diode.leads;
  const members = Array.from({ length: count }, (_, n): Part => ({
    ...diode,
    ref: count === 1 ? diode.ref : `${diode.ref}.${n + 1}`,
    type: ordinary,
    leads: { anode: n === 0 ? anode : inner(n), cathode: n === count - 1 ? cathode : inner(n + 1) },
  }));
  const { circuit } = bench.stage;
  const inners = Array.from({ length: count - 1 }, (_, n) => inner(n + 1));
  const changed: Circuit = {
    ...circuit,
    common: [...circuit.common, ...inners],
    parts: circuit.parts.flatMap((part) => (part.ref === diode.ref ? members : [part])),
  };
  const fitted = rebuilt(bench, changed);
  if (fitted === null) return null;
  const moves = movesOf(fitted, bench, taught);
  return { count, volts: across(fitted, diode), node: moves.node, moveV: moves.nodeMv / 1000, gainDb: moves.gainDb };
}

function across({ stage }: Probe, { leads: { anode = '', cathode = '' } }: Diode): number {
  return nodeVolts(stage.network, stage.point, anode) - nodeVolts(stage.network, stage.point, cathode);
}

function currentThrough({ stage }: Probe, ref: string): number {
  return deviceCurrents(stage.network, stage.point, ref).anode ?? 0;
}

/** kT/q at 25 °C, in V for ten times the current. */
const steepest = 0.0592;

function lawOf({ VF, ideality = 1 }: DiodeType): { at1mA: number; perDecade: number } {
  const [first, second] = VF;
  if (first === undefined) return { at1mA: NaN, perDecade: NaN };
  const perDecade =
    second === undefined ? ideality * steepest : (second.value - first.value) / Math.log10(second.at / first.at);
  return { at1mA: first.value + perDecade * Math.log10(1e-3 / first.at), perDecade };
}
