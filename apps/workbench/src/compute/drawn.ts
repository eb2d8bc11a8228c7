import { stageDrawing, stageDrawingText, stageScene, type StageDrawingOptions } from '@curvewright/report';
import {
  channelBias,
  partShares,
  shareFigures,
  voltsByNode,
  type PartShares,
  type Stage,
  type StagedState,
} from '@curvewright/verify';
import type { Drawn, DrawRequest } from '../contract/views.ts';
import type { Bench } from './bench.ts';
import { partValue } from './part-value.ts';

/** Shares that are known already, by channel and what they are of. */
export type KnownShares = WeakMap<Stage, Map<string, PartShares | null>>;

export function drawn({ staged, subject }: Bench, request: DrawRequest, known: KnownShares): Drawn {
  const { state, channel, title, volts, currents, shade, only } = request;
  const { probe } = staged.states.find((each) => each.state === state) ?? lastOf(staged.states);
  const { stage } = probe;
  const { circuit } = stage;
  const biased = voltsByNode(stage, channel);
  // Nodes inside a string of diodes bear names of the program's own.
  const nodes = [...biased.keys()].map((node) => node.split('@')[0] ?? node).filter((node) => !node.includes('.'));
  const options: StageDrawingOptions = {
    only: only ?? undefined,
    positions: subject.board.drawing,
    volts: volts ? biased : undefined,
    currents: currents ? channelBias(stage, channel) : undefined,
    shares: shade === null ? undefined : (sharesIn(stage, channel, shade, nodes) ?? undefined),
  };
  const { parts } = stageScene(circuit, channel, options);
  return {
    ...{ revision: request.subject.revision, ok: true, nodes },
    svg: stageDrawing(circuit, channel, { ...options, ink: 'page', titled: false, title }),
    text: stageDrawingText(circuit, channel, options),
    parts: parts.flatMap(({ ref, body }) => {
      const part = circuit.parts.find((each) => each.ref === ref);
      if (part === undefined) return [];
      const middle = { x: (body.left + body.right) / 2, y: (body.top + body.bottom) / 2 };
      const last = lastOf(staged.states).probe.stage.circuit.parts.find((each) => each.ref === ref);
      const value = last === undefined ? null : (partValue(last)?.value ?? null);
      return [{ ref, position: part.position, ...middle, value }];
    }),
  };

  /** Null for a node that the board does not have: what it was called before it was changed. */
  function sharesIn(of: Stage, name: string, what: string, own: readonly string[]): PartShares | null {
    const figure = shareFigures.find((each) => each === what) ?? (own.includes(what) ? { node: what } : null);
    if (figure === null) return null;
    const ofStage = known.get(of) ?? new Map<string, PartShares | null>();
    known.set(of, ofStage);
    const key = `${name} ${what}`;
    const before = ofStage.get(key);
    if (before !== undefined) return before;
    const found = partShares(of, name, figure, staged.limits);
    ofStage.set(key, found);
    return found;
  }
}

export function lastOf(states: readonly StagedState[]): StagedState {
  const last = states.at(-1);
  if (last === undefined) throw new RangeError('a bench without a state');
  return last;
}
