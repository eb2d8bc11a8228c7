import { agePart, leadsOf, type BenchAction, type Capacitor, type Circuit, type FaultKind } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { gainReader } from '../../gain-reader.ts';
import { twinsOf } from '../../part-value.ts';
import { solveStage, type Stage } from '../../stage.ts';
import type { Catalogue } from '../catalogue.ts';
import type { Heard } from '../heard.ts';
import type { Believed } from '../posterior.ts';
import type { TrialChance } from './information.ts';

/** An action with two outcomes. */
export interface Trial {
  readonly kind: BenchAction;
  readonly action: string;
  readonly where: string;
  readonly shows: readonly [string, string];
  readonly chances: readonly TrialChance[];
}

/** A hypothesis with its share. */
export interface Suspected extends Pick<Believed, 'entry' | 'best'> {
  readonly share: number;
}

/** How sure a bench is of what it sees in a trial: common practice, no source. */
const seen = 0.95;

/** Of parts that are frozen or warmed, those that answer when they are bad, and when they are not. */
const answers = { bad: 0.7, good: 0.05 };

/** dB within which a curve has come back. */
const back = 1;

/** Kinds that a good capacitor alongside mends, that a lifted lead ends, that heat and cold move. */
const bridged: readonly FaultKind[] = ['open', 'dried', 'contact', 'drifted', 'wrong_value'];
const lifted: readonly FaultKind[] = ['leaky', 'short'];
const moody: readonly FaultKind[] = [
  'leaky',
  'leaky_transistor',
  'noisy',
  'contact',
  'open_joint',
  'junction_open',
  'cracked_track',
  'dried',
];

/** Every trial that speaks of a suspected part. `suspects` are the likeliest hypotheses, `healthy` the share of nothing wrong. */
export function trialsOf(
  catalogue: Catalogue,
  suspects: readonly Suspected[],
  healthy: number,
  heard: readonly Heard[],
): readonly Trial[] {
  const { circuit } = catalogue;
  const bench = trialBench(catalogue, suspects, healthy);
  const named = new Set(suspects.flatMap(({ entry }) => entry.hypothesis.refs));
  const suspectedOf = (ref: string, kinds: readonly FaultKind[]): boolean =>
    suspects.some(({ entry: { hypothesis } }) => hypothesis.refs.includes(ref) && kinds.includes(hypothesis.kind));
  const trials: Trial[] = [];
  for (const part of circuit.parts.filter(({ ref }) => named.has(ref))) {
    if (part.kind === 'capacitor' && suspectedOf(part.ref, bridged)) trials.push(bridge(bench, part));
    if (part.kind === 'capacitor' && suspectedOf(part.ref, lifted)) {
      const trial = lift(bench, part);
      if (trial !== null) trials.push(trial);
    }
    const [twin] = part.kind === 'typed' && part.type.kind !== 'opamp' ? twinsOf(circuit, part) : [];
    if (twin !== undefined) trials.push(swap(bench, part.ref, twin.ref));
    const hot = part.kind === 'typed' && part.type.kind === 'triode';
    if (!hot && suspectedOf(part.ref, moody)) trials.push(freeze(bench, part.ref));
  }
  if (heard.some(({ what }) => ['hum', 'hiss', 'popping'].includes(what))) trials.push(shortInput(bench));
  return trials;
}

interface TrialBench {
  readonly circuit: Circuit;
  /** The circuit as each hypothesis has it; first that with nothing wrong. */
  readonly boards: readonly {
    readonly label: string;
    readonly refs: readonly string[];
    readonly kind: FaultKind | null;
    readonly weight: number;
    readonly circuit: Circuit;
    readonly stage: Stage | null;
  }[];
  readonly stageOf: (circuit: Circuit) => Stage | null;
}

function trialBench({ circuit, source }: Catalogue, suspects: readonly Suspected[], healthy: number): TrialBench {
  const stageOf = (each: Circuit): Stage | null => {
    const solved = solveStage(each, source);
    return solved.ok ? solved.value : null;
  };
  const boards = suspects.map(({ entry, best, share }) => {
    const faulty = entry.runs[best.run]!.of.apply(circuit, best.value);
    const { refs, kind } = entry.hypothesis;
    return { label: refs.join('/'), refs, kind, weight: share, circuit: faulty, stage: stageOf(faulty) };
  });
  const good = { label: '', refs: [], kind: null, weight: healthy, circuit, stage: stageOf(circuit) };
  return { circuit, boards: [good, ...boards], stageOf };
}

function chances({ boards }: TrialBench, of: (board: TrialBench['boards'][number]) => number): readonly TrialChance[] {
  return boards.map((board) => ({ label: board.label, weight: board.weight, chance: of(board) }));
}

/** Whether the curve, off before, comes back with a good one alongside. */
function bridge(bench: TrialBench, part: Capacitor): Trial {
  const normal = gainsOf(bench.boards[0]!.stage);
  const good: Capacitor = { ...part, ref: `${part.ref}.good` };
  return {
    kind: 'bridge',
    action: `bridge ${part.ref} with a good one`,
    where: part.ref,
    shows: ['the response comes back', 'no better'],
    chances: chances(bench, ({ circuit, stage }) => {
      const before = farthest(gainsOf(stage), normal);
      if (before <= back) return 1 - seen;
      const after = farthest(gainsOf(bench.stageOf({ ...circuit, parts: [...circuit.parts, good] })), normal);
      return after < Math.max(back, before / 3) ? seen : 1 - seen;
    }),
  };
}

const trialHz = [50, 1000, 10_000] as const;

function gainsOf(stage: Stage | null): readonly number[] {
  if (stage === null) return [];
  const reader = gainReader(stage);
  return stage.circuit.channels.flatMap((_, channel) => trialHz.map((hz) => Math.max(reader.gainDb(channel, hz), -60)));
}

function farthest(gains: readonly number[], normal: readonly number[]): number {
  if (gains.length !== normal.length) return Infinity;
  return gains.reduce((most, gain, n) => Math.max(most, Math.abs(gain - normal[n]!)), 0);
}

/** V within which a node has come back, and the part of its voltage. */
const near = { volts: 0.02, share: 0.05 };

/** Whether the node that the fault moves most comes right with the part out. Null where it moves none. */
function lift(bench: TrialBench, part: Capacitor): Trial | null {
  const [lead = ''] = Object.keys(leadsOf(part));
  const without = (circuit: Circuit): Stage | null =>
    circuit.parts.some(({ ref }) => ref === part.ref)
      ? bench.stageOf(agePart(circuit, part.ref, { kind: 'open_joint', lead }))
      : null;
  const clean = without(bench.circuit);
  const worst = bench.boards.find(
    ({ refs, kind }) => refs.includes(part.ref) && kind !== null && lifted.includes(kind),
  );
  const normal = bench.boards[0]!.stage;
  if (clean === null || normal === null || worst === undefined || worst.stage === null) return null;
  const { stage: moved } = worst;
  const moves = [...normal.network.nodes.keys()].map((node) => ({
    node,
    volts: Math.abs(voltsAt(moved, node) - voltsAt(normal, node)),
  }));
  const { node, volts } = moves.reduce((most, each) => (each.volts > most.volts ? each : most));
  if (!(volts > near.volts)) return null;
  const right = voltsAt(clean, node);
  return {
    kind: 'lift',
    action: `lift one lead of ${part.ref} and read ${node}`,
    where: part.ref,
    shows: [`${node} comes to ${right.toFixed(2)} V`, `${node} stays away from ${right.toFixed(2)} V`],
    chances: chances(bench, ({ circuit }) => {
      const off = Math.abs(voltsAt(without(circuit), node) - right);
      return off <= near.volts + near.share * Math.abs(right) ? seen : 1 - seen;
    }),
  };
}

function voltsAt(stage: Stage | null, node: string): number {
  return stage?.network.nodes.has(node) === true ? nodeVolts(stage.network, stage.point, node) : NaN;
}

/** Faults of the piece go with it; those of its joints and surroundings stay. */
function swap(bench: TrialBench, ref: string, twin: string): Trial {
  const stays: readonly FaultKind[] = ['open_joint', 'contact', 'wrong_insertion'];
  return {
    kind: 'swap',
    action: `swap ${ref} with ${twin}`,
    where: ref,
    shows: ['the fault goes to the other channel', 'the fault stays'],
    chances: chances(bench, ({ refs, kind }) => {
      const own = refs.length === 1 && (refs[0] === ref || refs[0] === twin);
      return own && kind !== null && !stays.includes(kind) ? seen : 1 - seen;
    }),
  };
}

function freeze(bench: TrialBench, ref: string): Trial {
  return {
    kind: 'freeze',
    action: `freeze or warm ${ref} and listen`,
    where: ref,
    shows: ['it answers', 'it does not'],
    chances: chances(bench, ({ refs, kind }) =>
      refs.includes(ref) && kind !== null && moody.includes(kind) ? answers.bad : answers.good,
    ),
  };
}

/** What comes in from outside goes away with the input short. */
function shortInput(bench: TrialBench): Trial {
  return {
    kind: 'short_input',
    action: 'short the input and listen',
    where: 'input',
    shows: ['it stays: the board makes it', 'it goes: cartridge, cable or plug'],
    chances: chances(bench, ({ kind }) => (kind === null ? 1 - seen : seen)),
  };
}
