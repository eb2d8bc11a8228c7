import { channelBias, partShares, solveStage, voltsByNode, type Stage } from '@curvewright/verify';
import { leadsOf, mergeLimits, type Circuit } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { stageScene, type Scene, type StageDrawingOptions } from '../../src/index.ts';
import { blemishes, netsOf, netsOfNodes } from './read-scene.ts';
import { seedBoard, seedNames } from './seed-boards.ts';

const stages = new Map(
  seedNames.map((name) => {
    const stage = solveStage(seedBoard(name).circuit);
    if (!stage.ok) throw new Error(name);
    return [name, stage.value];
  }),
);

/** Wires that cross on the drawing of each whole circuit; each is forced by feedback that comes over a signal it has to reach across. */
const crossings = { lk205: 1, lk310: 1, lk417: 1, lk520: 1, lk630: 1 } as const;

function everything(stage: Stage, channel: string): StageDrawingOptions {
  return {
    volts: voltsByNode(stage, channel),
    currents: channelBias(stage, channel),
    shares: partShares(stage, channel, 'bass', mergeLimits({}))!,
  };
}

/** What the drawing must join: every drawn part's leads by node, and the terminals. */
function netsOfCircuit(
  circuit: Circuit,
  channel: string,
  { parts, marks }: Scene,
  isCommon: (node: string) => boolean,
): ReturnType<typeof netsOfNodes> {
  const refs = new Set(parts.map(({ ref }) => ref));
  const ends = circuit.channels.find(({ name }) => name === channel)!;
  const name = (node: string): string => (isCommon(node) ? 'gnd' : node);
  return netsOfNodes([
    ...circuit.parts
      .filter(({ ref }) => refs.has(ref))
      .flatMap((part) => [
        ...Object.entries(leadsOf(part)).map(([lead, node]) => ({ name: `${part.ref}.${lead}`, node: name(node) })),
        ...(part.kind === 'typed' && part.rails
          ? ['rail above', 'rail below'].map((lead, n) => ({
              name: `${part.ref}.${lead}`,
              node: name(part.rails![n]!),
            }))
          : []),
      ]),
    ...(['input', 'output'] as const)
      .filter((kind) => marks.some((mark) => mark.kind === kind))
      .map((kind) => ({ name: `${kind} terminal`, node: ends[kind] })),
  ]);
}

describe.each(seedNames)('the drawing of %s', (name) => {
  const stage = stages.get(name)!;
  const { circuit } = stage;
  const kinds: readonly [string, (channel: string) => StageDrawingOptions][] = [
    ['plain', () => ({})],
    ['with all that can be written', (channel) => everything(stage, channel)],
    ['of the bias', (channel) => ({ only: { kind: 'dc' }, volts: voltsByNode(stage, channel) })],
    ['of the signal', () => ({ only: { kind: 'ac', hz: 1000 } })],
  ];

  it.each(kinds)('is legible: %s', (_, options) => {
    for (const { name: channel } of circuit.channels)
      expect(blemishes(stageScene(circuit, channel, options(channel)))).toEqual([]);
  });

  it.each(kinds)('joins what the board joins: %s', (_, options) => {
    for (const { name: channel } of circuit.channels) {
      const asked = options(channel);
      const rails = new Set(circuit.rails.map(({ node }) => node));
      const isCommon = (node: string): boolean => asked.only?.kind === 'ac' && rails.has(node);
      const scene = stageScene(circuit, channel, asked);
      expect(netsOf(scene)).toEqual(netsOfCircuit(circuit, channel, scene, isCommon));
    }
  });

  it('shows every part of the channel and what the channels share, each once', () => {
    const { parts } = stageScene(circuit, 'right', {});
    const expected = circuit.parts.filter(({ channel }) => channel !== 'left').map(({ ref }) => ref);
    expect(parts.map(({ ref }) => ref).toSorted()).toEqual(expected.toSorted());
  });

  it('has few crossings', () => {
    expect(stageScene(circuit, 'left', {}).crossings).toHaveLength(crossings[name]);
  });

  it('runs from left to right, rails above, common below', () => {
    const { parts, marks } = stageScene(circuit, 'left', {});
    const [input, output] = ['input', 'output'].map((kind) => marks.find((mark) => mark.kind === kind)!);
    for (const { body } of parts.filter(({ leads }) => leads.length > 2)) {
      expect(body.left).toBeGreaterThan(input!.at.x);
      expect(body.right).toBeLessThan(output!.at.x);
    }
    for (const { ref, body, leads } of parts) {
      for (const { node, at } of leads) {
        if (node === 'gnd' && leads.length === 2)
          expect([ref, at.y >= body.bottom || ref === 'C116']).toEqual([ref, true]);
      }
    }
  });

  it('looks alike in both channels', () => {
    const [left, right] = ['left', 'right'].map((channel) =>
      stageScene(circuit, channel, {}).parts.map(({ at }) => at),
    );
    expect(left).toEqual(right);
  });
});

describe('places that the file asks for', () => {
  const { circuit } = seedBoard('lk417');

  it('are kept, and everything else finds room beside them', () => {
    const scene = stageScene(circuit, 'left', { positions: { C103: [60, 20], Q105: [90, -8] } });
    const middle = (ref: string): readonly number[] => {
      const { left, right, top, bottom } = scene.parts.find((part) => part.ref === ref)!.body;
      return [(left + right) / 2, (top + bottom) / 2];
    };
    expect(middle('C103')).toEqual([60, 20]);
    expect(middle('Q105')).toEqual([90, -8]);
    expect(blemishes(scene)).toEqual([]);
    expect(netsOf(scene)).toEqual(netsOf(stageScene(circuit, 'left', {})));
  });

  it('may be those of the drawing itself', () => {
    const before = stageScene(circuit, 'left', {});
    const positions = Object.fromEntries(
      before.parts.map(({ ref, body }) => [ref, [(body.left + body.right) / 2, (body.top + body.bottom) / 2] as const]),
    );
    expect(
      stageScene(circuit, 'left', { positions })
        .parts.map(({ ref, at }) => [ref, at])
        .toSorted(),
    ).toEqual(before.parts.map(({ ref, at }) => [ref, at]).toSorted());
  });
});

describe('the reading of a drawing', () => {
  const scene = stageScene(seedBoard('lk417').circuit, 'left', {});

  it.each<[string, Partial<Scene>]>([
    ['no dot', { dots: scene.dots.slice(1) }],
    ['lies on', { texts: [...scene.texts, { ...scene.texts[0]!, text: 'again' }] }],
    ['runs through', { wires: [...scene.wires, { node: 'x', from: { x: -50, y: 3 }, to: { x: 500, y: 3 } }] }],
    ['is not counted', { crossings: [] }],
    [
      'ends on',
      { wires: [...scene.wires, { node: 'x', from: scene.wires[0]!.from, to: { x: scene.wires[0]!.from.x, y: -90 } }] },
    ],
    ['slanted', { wires: [...scene.wires, { node: 'x', from: { x: -50, y: -60 }, to: { x: -40, y: -61 } }] }],
  ])('finds that something %s', (told, change) => {
    expect(blemishes({ ...scene, ...change })).toContainEqual(expect.stringContaining(told));
  });

  it('finds a wire that is not there', () => {
    expect(netsOf({ ...scene, wires: scene.wires.slice(1) })).not.toEqual(netsOf(scene));
  });
});
