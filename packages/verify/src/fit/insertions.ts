import { leadLetter, type Circuit, type TypedPart } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { gainReader } from '../gain-reader.ts';
import { nodesOfChannel } from '../node-volts.ts';
import { sheetFrequencies } from '../stage-sheet.ts';
import { varyStage, type Stage } from '../stage.ts';
import type { Steps } from '../steps.ts';

/** What every wrong insertion of a transistor would show on the meter and in the response. */
export interface InsertionsAnswer {
  /** Each transistor as it stands now. */
  readonly standing: readonly Insertion[];
  /** The five other ways of each. */
  readonly positions: readonly Insertion[];
}

/** One transistor in its holes in one order. */
export interface Insertion {
  readonly ref: string;
  /** The channel in which it is told; the first for a part that the channels share. */
  readonly channel: string;
  /** The lead that each hole is for, left to right from the component side; the order of the file where the board states no holes. */
  readonly holes: string;
  /** The lead that stands in each of them. */
  readonly inserted: string;
  /** Full names, the channel's own nodes and the shared ones; none where there is no bias. */
  readonly nodes: readonly { readonly node: string; readonly volts: number }[];
  /** At 1 kHz; null without a bias. */
  readonly gainDb: number | null;
  readonly points: readonly { readonly hz: number; readonly deviationDb: number }[];
}

const leadCount = 3;

/** Each transistor of a stage as it stands and in the five other ways, one way a step. */
export function* insertionSteps(stage: Stage): Steps<InsertionsAnswer> {
  const transistors = stage.circuit.parts.filter(hasLeadOrder);
  const standing: Insertion[] = [];
  const positions: Insertion[] = [];
  for (const part of transistors) {
    const holes = part.seat?.holes ?? lettersOf(part);
    const stands = part.inserted ?? holes;
    standing.push(fingerprint(stage, part, holes, stands, stands));
    for (const inserted of ordersOf(holes)) {
      if (inserted === stands) continue;
      positions.push(fingerprint(stage, part, holes, stands, inserted));
      yield (standing.length + positions.length) / (6 * transistors.length);
    }
  }
  return { standing, positions };
}

/** Bipolar transistors and JFETs: what else has leads of its own has them in a socket, a band or numbered pins. */
function hasLeadOrder(part: Circuit['parts'][number]): part is TypedPart {
  return part.kind === 'typed' && ['npn', 'pnp', 'jfet-n', 'jfet-p'].includes(part.type.kind);
}

function fingerprint(stage: Stage, part: TypedPart, holes: string, stands: string, inserted: string): Insertion {
  const channels = stage.circuit.channels.map(({ name }) => name);
  const index = Math.max(0, channels.indexOf(part.channel ?? ''));
  const channel = channels[index]!;
  const isAsNow = inserted === stands;
  const other = isAsNow ? stage : varyStage(stage, withLeads(stage.circuit, part, stands, inserted));
  const named = { ref: part.ref, channel, holes, inserted };
  if (other === null) return { ...named, nodes: [], gainDb: null, points: [] };
  const reader = gainReader(other);
  return {
    ...named,
    nodes: nodesOfChannel(other, channel).map((node) => ({ node, volts: nodeVolts(other.network, other.point, node) })),
    gainDb: reader.gainDb(index, 1000),
    points: sheetFrequencies.map((hz) => ({ hz, deviationDb: reader.deviationDb(index, hz) })),
  };
}

/** Hole i lies on the node of lead `stands[i]`, and takes lead `inserted[i]`. */
function withLeads(circuit: Circuit, part: TypedPart, stands: string, inserted: string): Circuit {
  const nodeOf = new Map(Object.entries(part.leads).map(([lead, node]) => [leadLetter(lead), node]));
  const leads = Object.keys(part.leads).map((lead): [string, string] => [
    lead,
    nodeOf.get(stands.charAt(inserted.indexOf(leadLetter(lead)))) ?? '',
  ]);
  const turned: TypedPart = { ...part, leads: Object.fromEntries(leads), inserted };
  return { ...circuit, parts: circuit.parts.map((each) => (each === part ? turned : each)) };
}

function lettersOf(part: TypedPart): string {
  return Object.keys(part.leads).map(leadLetter).join('');
}

/** Every order of three letters. */
export function ordersOf(letters: string): readonly string[] {
  if (letters.length !== leadCount) throw new RangeError(`${letters} are not three leads`);
  const [a, b, c] = [...letters] as [string, string, string];
  return [`${a}${b}${c}`, `${a}${c}${b}`, `${b}${a}${c}`, `${b}${c}${a}`, `${c}${a}${b}`, `${c}${b}${a}`];
}
