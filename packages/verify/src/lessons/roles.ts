import type { Capacitor, TypedPart } from '@curvewright/board';
import { returnRatio, withLoopLink, type LoopLead } from '@curvewright/network';
import type { Probe } from '../figure.ts';
import { rebuilt, taught, taughtParts, withoutPart } from './lesson-bench.ts';

/** Hz at which it is asked what a part is for. */
const middle = 1000;

/** dB that are lost without a part through which the signal goes. */
const passes = 40;

/** dB that are lost without a part that sets the gain. */
const sets = 6;

/** A stage with feedback to its input's other side amplifies at least once, whatever is taken out of its leg; dB of room for real parts. */
const unity = -1;

interface Absence {
  readonly part: Capacitor;
  readonly without: Probe;
  /** Of the gain at 1 kHz, dB, positive. */
  readonly lossDb: number;
}

function absences(bench: Probe): readonly Absence[] {
  return taughtParts(bench).flatMap((part): readonly Absence[] => {
    if (part.kind !== 'capacitor') return [];
    const without = withoutPart(bench, part.ref);
    if (without === null) return [];
    return [{ part, without, lossDb: bench.reader.gainDb(taught, middle) - without.reader.gainDb(taught, middle) }];
  });
}

/** Capacitors through which the signal passes: without one of them next to nothing comes out. */
export function couplingCapacitors(bench: Probe): readonly Capacitor[] {
  return absences(bench).flatMap(({ part, lossDb }) => (lossDb >= passes ? [part] : []));
}

/**
 * The capacitor in the feedback leg: without it the feedback is stronger and so the gain lower, but the signal still passes. Without
 * a bypass capacitor the gain may fall as well, but there the feedback gets weaker.
 */
export function legCapacitor(bench: Probe): Capacitor | null {
  const legs = absences(bench)
    .filter(
      ({ without, lossDb }) => lossDb >= sets && lossDb < passes && without.reader.gainDb(taught, middle) >= unity,
    )
    .toSorted((a, b) => b.lossDb - a.lossDb);
  const loop = legs.length === 0 ? null : strongestLoop(bench);
  if (loop === null) return null;
  const found = legs.find(({ without }) => (feedback(without, loop.at) ?? 0) > loop.strength);
  return found?.part ?? null;
}

const controls: Readonly<Record<string, string>> = {
  ...{ npn: 'base', pnp: 'base', 'jfet-n': 'gate', 'jfet-p': 'gate', triode: 'grid', opamp: 'minus' },
};

/** Where most of the channel's feedback can be looked into. */
function strongestLoop(bench: Probe): { readonly at: LoopLead; readonly strength: number } | null {
  const loops = taughtParts(bench)
    .filter((part): part is TypedPart => part.kind === 'typed')
    .flatMap(({ ref, type }) => {
      const lead = controls[type.kind];
      const strength = lead === undefined ? null : feedback(bench, { ref, lead });
      return lead === undefined || strength === null ? [] : [{ at: { ref, lead }, strength }];
    });
  return loops.toSorted((a, b) => b.strength - a.strength)[0] ?? null;
}

/** Magnitude of the return ratio at 1 kHz. */
function feedback(probe: Probe, at: LoopLead): number | null {
  const circuit = withLoopLink(probe.stage.circuit, at);
  const linked = circuit === null ? null : rebuilt(probe, circuit);
  if (linked === null) return null;
  const ratio = returnRatio(linked.stage.network, linked.stage.point, at)(middle);
  return ratio === null ? null : Math.hypot(...ratio);
}
