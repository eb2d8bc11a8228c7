import { agePart, withValue, type Capacitor } from '@curvewright/board';
import { nearestPreferred } from '@curvewright/quantity';
import { cornerOf } from '../capacitor-corner.ts';
import type { Probe } from '../figure.ts';
import { ladder } from './leg-capacitor.ts';
import { deviationCurve, lessonHz, otherwise, rebuilt, taught, withPart, type LessonBench } from './lesson-bench.ts';
import { couplingCapacitors } from './roles.ts';

/** A coupling capacitor, what the textbook's corner says of it, and what the board does. */
export interface CornerLesson {
  readonly ref: string;
  readonly farads: number;
  /** Ω that the textbook finds around it: resistors alone, transistors and valves left out. */
  readonly textbookOhms: number;
  /** Preferred values about the drawn one, ascending. */
  readonly values: readonly CornerValue[];
  readonly drawn: number;
  readonly asked: number;
}

export interface CornerValue {
  readonly farads: number;
  readonly textbookHz: number;
  /** Over `lessonHz`: the board, and the board with a vast capacitor less what the textbook's corner costs. */
  readonly deviationDb: Float64Array;
  readonly textbookDb: Float64Array;
  /** At 10 Hz. */
  readonly boardAt10Db: number;
  readonly textbookAt10Db: number;
}

const askedHz = 10;

/** So much larger that no bass is lost in it. */
const vast = 1000;

/** On the coupling capacitor of which the textbook says least; null where the board has none. */
export function cornerLesson(bench: LessonBench): CornerLesson | null {
  const dead = deadBoard(bench);
  const found = couplingCapacitors(bench).flatMap((part) => lessonOn(bench, dead, part) ?? []);
  const missed = ({ values, asked }: CornerLesson): number => {
    const value = values[asked];
    return value === undefined ? 0 : Math.abs(value.boardAt10Db - value.textbookAt10Db);
  };
  return found.toSorted((a, b) => missed(b) - missed(a))[0] ?? null;
}

const passive: ReadonlySet<string> = new Set(['diode', 'zener']);

/** The board with its active parts out of their holes. */
function deadBoard(bench: LessonBench): Probe | null {
  const { circuit } = bench.stage;
  const active = circuit.parts.filter((part) => part.kind === 'typed' && !passive.has(part.type.kind));
  return rebuilt(
    bench,
    active.reduce((so, { ref }) => agePart(so, ref, { kind: 'open' }), circuit),
  );
}

function lessonOn(bench: LessonBench, dead: Probe | null, part: Capacitor): CornerLesson | null {
  const corner = dead === null ? null : cornerOf(dead.stage, part);
  const rest = valued(bench, part, part.farads * vast);
  if (corner === null || rest === null) return null;
  const values = ladder(part.farads).flatMap((farads): readonly CornerValue[] => {
    const other = valued(bench, part, farads);
    if (other === null) return [];
    const textbookHz = (corner.hz * part.farads) / farads;
    const loss = (hz: number): number => 10 * Math.log10(1 + (textbookHz / hz) ** 2);
    const restDb = deviationCurve(rest);
    return [
      {
        farads,
        textbookHz,
        deviationDb: deviationCurve(other),
        textbookDb: lessonHz.map((hz, n) => (restDb[n] ?? NaN) - loss(hz)),
        boardAt10Db: other.reader.deviationDb(taught, askedHz),
        textbookAt10Db: rest.reader.deviationDb(taught, askedHz) - loss(askedHz),
      },
    ];
  });
  const indexOf = (farads: number): number => values.findIndex((value) => Math.abs(value.farads / farads - 1) < 1e-6);
  const asked = indexOf(nearestPreferred(part.farads / 5, 'E6'));
  return {
    ...{ ref: part.ref, farads: part.farads, textbookOhms: corner.ohms, values },
    ...{ drawn: indexOf(part.farads), asked: Math.max(0, asked) },
  };
}

function valued(bench: LessonBench, { ref }: Capacitor, farads: number): Probe | null {
  return otherwise(
    bench,
    withPart(bench.stage.circuit, ref, (part) => withValue(part, farads)),
  );
}
