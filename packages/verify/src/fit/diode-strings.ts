import type { Circuit, PartType, TypedPart } from '@curvewright/board';
import { deviceCurrents, nodeVolts } from '@curvewright/network';
import { headroom } from '../headroom.ts';
import { movesOf, channelOf } from '../position-effects.ts';
import { gainReader } from '../gain-reader.ts';
import type { Probe } from '../figure.ts';
import { varyStage, solveStage, type Stage } from '../stage.ts';
import type { Steps } from '../steps.ts';

/** What diodes in series do in the place of a drawn one. */
export interface StringsAnswer {
  readonly ref: string;
  /** The drop that the drawn part has there, V, and how it moves, V/K. */
  readonly wantedV: number;
  readonly wantedDriftVPerK: number | null;
  /** A through the drawn part. */
  readonly amps: number;
  /** One for each type, the nearest drop first. */
  readonly strings: readonly DiodeString[];
}

export interface DiodeString {
  readonly type: string;
  readonly count: number;
  /** V of all together and A through them, solved in place. */
  readonly dropV: number;
  readonly amps: number;
  /** V above the drawn drop. */
  readonly errorV: number;
  /** V/K of the drop while the whole board warms; null where it has no bias a kelvin on. */
  readonly driftVPerK: number | null;
  /** The node whose bias moves most from the drawn board's, and by how much. */
  readonly node: string;
  readonly nodeMv: number;
  /** mV rms at 1 kHz of the channel that overloads first; null where none was reached. */
  readonly overloadMv: number | null;
}

/** Longer strings than this are no way to make a drop. */
const longest = 8;

const overloadHz = 1000;

/** For each of these drawn diodes, how many of which diode come nearest to its drop at the position's own current. */
export function* stringSteps(
  drawn: Stage,
  types: Readonly<Record<string, PartType>>,
  refs: ReadonlySet<string>,
): Steps<readonly StringsAnswer[]> {
  const diodes = drawn.circuit.parts.filter(
    (part): part is TypedPart => part.kind === 'typed' && part.type.kind === 'diode' && refs.has(part.ref),
  );
  const known = Object.entries(types).filter(([, type]) => type.kind === 'diode');
  const answers: StringsAnswer[] = [];
  for (const part of diodes) {
    const strings: DiodeString[] = [];
    const wantedV = dropOf(drawn, part.leads);
    for (const [name, type] of known) {
      const string = nearestString(drawn, part, name, type, wantedV);
      if (string !== null) strings.push(string);
      yield (answers.length + strings.length / known.length) / diodes.length;
    }
    strings.sort((a, b) => Math.abs(a.errorV) - Math.abs(b.errorV));
    answers.push({
      ref: part.ref,
      wantedV,
      wantedDriftVPerK: driftOf(drawn, part.leads),
      amps: deviceCurrents(drawn.network, drawn.point, part.ref).anode!,
      strings,
    });
  }
  return answers;
}

function nearestString(
  drawn: Stage,
  part: TypedPart,
  name: string,
  type: PartType,
  wantedV: number,
): DiodeString | null {
  let best: { readonly stage: Stage; readonly count: number; readonly errorV: number } | null = null;
  for (let count = 1; count <= longest; count++) {
    const stage = stringInPlace(drawn, part, name, type, count);
    const errorV = stage === null ? NaN : dropOf(stage, part.leads) - wantedV;
    if (stage !== null && (best === null || Math.abs(errorV) < Math.abs(best.errorV))) best = { stage, count, errorV };
    // The drop grows with every diode: past the wanted one it only gets worse.
    if (errorV > 0) break;
  }
  if (best === null) return null;
  const { stage, count, errorV } = best;
  const [before, after] = [drawn, stage].map((each): Probe => ({ stage: each, reader: gainReader(each) }));
  const { node, nodeMv } = movesOf(after!, before!, channelOf(part, before!));
  const overloads = headroom(stage, [overloadHz]).channels.flatMap(({ overload }) => overload[0]?.inputMv ?? []);
  return {
    ...{ type: name, count, dropV: wantedV + errorV, errorV, node, nodeMv },
    amps: deviceCurrents(stage.network, stage.point, `${part.ref}.1`).anode!,
    driftVPerK: driftOf(stage, part.leads),
    overloadMv: overloads.length === 0 ? null : Math.min(...overloads),
  };
}

/** The drawn board with a string in the diode's place, first at the anode; null where it has no bias. */
function stringInPlace(drawn: Stage, part: TypedPart, name: string, type: PartType, count: number): Stage | null {
  const { anode = 'gnd', cathode = 'gnd' } = part.leads;
  const after = (n: number): string => `${part.ref}.${n}-${n + 1}${part.channel === null ? '' : `@${part.channel}`}`;
  const members = Array.from({ length: count }, (_, n): TypedPart => {
    const [from, to] = [n === 0 ? anode : after(n), n === count - 1 ? cathode : after(n + 1)];
    return { ...part, ref: `${part.ref}.${n + 1}`, typeName: name, type, leads: { anode: from, cathode: to } };
  });
  const inner = members.slice(1).map(({ leads }) => leads.anode!);
  const { circuit, source } = drawn;
  const solved = solveStage(
    {
      ...circuit,
      parts: circuit.parts.flatMap((each) => (each.ref === part.ref ? members : [each])),
      common: part.channel === null ? [...circuit.common, ...inner] : circuit.common,
    },
    source,
    drawn,
  );
  return solved.ok ? solved.value : null;
}

function dropOf({ network, point }: Stage, { anode = 'gnd', cathode = 'gnd' }: TypedPart['leads']): number {
  return nodeVolts(network, point, anode) - nodeVolts(network, point, cathode);
}

/** Over one kelvin either way, which the exponentials of a junction bend by parts in a million. */
function driftOf(stage: Stage, leads: TypedPart['leads']): number | null {
  const at = (kelvin: number): Circuit => ({ ...stage.circuit, ambient: stage.circuit.ambient + kelvin });
  const [cold, warm] = [varyStage(stage, at(-1)), varyStage(stage, at(1))];
  return cold === null || warm === null ? null : (dropOf(warm, leads) - dropOf(cold, leads)) / 2;
}
