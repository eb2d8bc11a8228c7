import { circuitWithOnly, type Job, type Part } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import type { Probe } from './figure.ts';
import { gainReader, type GainReader } from './gain-reader.ts';
import { bareName } from './node-volts.ts';
import { furthestPoint } from './search-curve.ts';
import { solveStage, type Stage } from './stage.ts';

/** What one position of the rework does when it alone is done to the drawn board; null where the board then has no bias. */
export interface PositionEffect {
  readonly ref: string;
  readonly description: string;
  /** The channel in which it stands; the first for a position that the channels share. */
  readonly channel: string;
  readonly moves: Moves | null;
}

/** What moves from one stage to another, read in one of its channels. */
export interface Moves {
  /** Change of deviation at 20 Hz and at 10 kHz, and of the gain at 1 kHz, dB. */
  readonly at20HzDb: number;
  readonly at10kHzDb: number;
  readonly gainDb: number;
  /** Change of the largest level difference between the channels from 30 Hz to 15 kHz, dB; null for one channel. */
  readonly balanceDb: number | null;
  /** The node whose bias moves most, and by how much. */
  readonly node: string;
  readonly nodeMv: number;
}

export function positionEffects(
  job: Job,
  drawn: Probe,
  rebuilt: readonly { position: string; description: string }[],
): readonly PositionEffect[] {
  return rebuilt.flatMap(({ position, description }): readonly PositionEffect[] => {
    const place = job.positions.find(({ drawn: part, fitted }) => part.ref === position && fitted !== undefined);
    if (place === undefined) return [];
    const channel = channelOf(place.drawn, drawn);
    const { name } = drawn.stage.circuit.channels[channel]!;
    const alone = doneAlone(job, [position], drawn);
    return [{ ref: position, description, channel: name, moves: alone && movesOf(alone, drawn, channel) }];
  });
}

/** Index of the channel in which a part stands; the first for one that the channels share. */
export function channelOf(part: Part, { stage }: Probe): number {
  return Math.max(
    0,
    stage.circuit.channels.findIndex(({ name }) => name === part.channel),
  );
}

/** The drawn board with only these positions as rebuilt; null where it then has no bias. */
export function doneAlone(job: Job, refs: readonly string[], drawn: Probe): Probe | null {
  const solved = solveStage(circuitWithOnly(job, refs), drawn.stage.source, drawn.stage);
  return solved.ok ? { stage: solved.value, reader: gainReader(solved.value) } : null;
}

export function movesOf(alone: Probe, drawn: Probe, channel: number): Moves {
  const change = (read: (reader: GainReader) => number): number => read(alone.reader) - read(drawn.reader);
  const moved = mostMovedNode(alone.stage, drawn.stage);
  return {
    at20HzDb: change((r) => r.deviationDb(channel, 20)),
    at10kHzDb: change((r) => r.deviationDb(channel, 10_000)),
    gainDb: change((r) => r.gainDb(channel, 1000)),
    balanceDb: drawn.stage.circuit.channels.length < 2 ? null : change(balanceDb),
    node: bareName(moved.node),
    nodeMv: moved.volts * 1000,
  };
}

function balanceDb(reader: GainReader): number {
  return Math.abs(furthestPoint((hz) => reader.gainDb(1, hz) - reader.gainDb(0, hz), 30, 15_000).db);
}

function mostMovedNode(stage: Stage, drawn: Stage): { node: string; volts: number } {
  let most = { node: '', volts: 0 };
  for (const node of drawn.network.nodes.keys()) {
    if (!stage.network.nodes.has(node)) continue;
    const volts = nodeVolts(stage.network, stage.point, node) - nodeVolts(drawn.network, drawn.point, node);
    if (Math.abs(volts) > Math.abs(most.volts) || most.node === '') most = { node, volts };
  }
  return most;
}
