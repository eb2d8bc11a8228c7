import { mergeLimits, type Limits } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { inputAdmittance, nodeVolts } from '@curvewright/network';
import type { GainReader } from './gain-reader.ts';
import type { FigureName, Judged } from './judge.ts';
import { bareName } from './node-volts.ts';
import { isCapacitorCoupled } from './output-coupling.ts';
import { furthestPoint, highestPoint, type Extreme } from './search-curve.ts';
import type { Stage } from './stage.ts';

/** A stage with its reader, and what it is held against. */
export interface Probe {
  readonly stage: Stage;
  readonly reader: GainReader;
  /** Of a drawn board: V by which each node's bias strays on healthy boards; silent where that is not known. */
  readonly nodeReach?: ReadonlyMap<string, number>;
}

/** A judged number that can be read off varied stages, too: its cause and its remedy are found by doing so. */
export interface Figure extends Judged {
  /** Reads the same figure off a varied stage, searching its band anew. */
  readonly search: (probe: Probe) => number;
  /** Reads it at the place where it was found: smooth in every value, so that parts can be ranked by it. */
  readonly follow: (probe: Probe) => number;
}

/** Every figure of a stage that the limits speak of; `drawn` gives what gain and node voltages are held against. */
export function figuresOf(probe: Probe, limits: Limits, drawn: Probe | null): readonly Figure[] {
  const channels = probe.stage.circuit.channels.map((_, channel) => channel);
  return [
    ...channels.flatMap((channel) => responseFigures(probe, limits, channel)),
    ...(drawn === null ? [] : channels.map((channel) => gainFigure(probe, limits, drawn, channel))),
    ...(channels.length > 1 ? [balanceFigure(probe, limits)] : []),
    ...channels.flatMap((channel) => outputDcFigures(probe, limits, channel)),
    ...channels.map((channel) => inputResistanceFigure(probe, limits, channel)),
    ...(drawn === null ? [] : nodeFigures(probe, limits, drawn)),
  ];
}

type Search = (curve: (hz: number) => number, from: number, to: number) => Extreme;

function bandFigure(
  probe: Probe,
  channel: number,
  what: FigureName,
  side: Figure['side'],
  limit: { good: number; look: number; from: number; to: number },
  search: Search,
): Figure {
  const read = ({ reader }: Probe): Extreme => search((hz) => reader.deviationDb(channel, hz), limit.from, limit.to);
  const found = read(probe);
  return {
    what,
    channel,
    value: found.db,
    unit: 'dB',
    side,
    good: limit.good,
    look: limit.look,
    hz: found.hz,
    where: `at ${printQuantity(found.hz, 'Hz')}`,
    search: (other) => read(other).db,
    follow: ({ reader }) => reader.deviationDb(channel, found.hz),
  };
}

function responseFigures(probe: Probe, limits: Limits, channel: number): readonly Figure[] {
  const { bass } = limits;
  const bassAt = ({ reader }: Probe): number => reader.deviationDb(channel, bass.at);
  return [
    bandFigure(probe, channel, 'deviation', 'within', limits.deviation, furthestPoint),
    {
      what: 'bass',
      channel,
      value: bassAt(probe),
      unit: 'dB',
      side: 'at least',
      good: bass.good,
      look: bass.look,
      hz: bass.at,
      where: `at ${printQuantity(bass.at, 'Hz')}`,
      search: bassAt,
      follow: bassAt,
    },
    bandFigure(probe, channel, 'treble', 'within', limits.treble, furthestPoint),
    bandFigure(probe, channel, 'ultrasonic', 'at most', limits.ultrasonic, highestPoint),
    bandFigure(probe, channel, 'subsonic_high', 'at most', limits.subsonic_high, highestPoint),
    bandFigure(probe, channel, 'subsonic_low', 'at most', limits.subsonic_low, highestPoint),
  ];
}

function gainFigure(probe: Probe, limits: Limits, drawn: Probe, channel: number): Figure {
  const before = drawn.reader.gainDb(channel, 1000);
  const read = ({ reader }: Probe): number => reader.gainDb(channel, 1000) - before;
  const { good, look } = limits.gain;
  return {
    what: 'gain',
    channel,
    value: read(probe),
    unit: 'dB',
    side: 'within',
    good,
    look,
    hz: 1000,
    where: 'at 1 kHz against drawn',
    search: read,
    follow: read,
  };
}

function balanceFigure(probe: Probe, limits: Limits): Figure {
  const { from, to, good, look } = limits.balance;
  const second = probe.stage.circuit.channels.length - 1;
  const difference =
    ({ reader }: Probe) =>
    (hz: number): number =>
      reader.gainDb(0, hz) - reader.gainDb(second, hz);
  const found = furthestPoint(difference(probe), from, to);
  const [first, last] = [probe.stage.circuit.channels[0]!.name, probe.stage.circuit.channels[second]!.name];
  return {
    what: 'balance',
    channel: null,
    value: found.db,
    unit: 'dB',
    side: 'within',
    good,
    look,
    hz: found.hz,
    where: `${first} over ${last} at ${printQuantity(found.hz, 'Hz')}`,
    search: (other) => furthestPoint(difference(other), from, to).db,
    follow: (other) => difference(other)(found.hz),
  };
}

/** Only where a capacitor couples the output. */
function outputDcFigures(probe: Probe, limits: Limits, channel: number): readonly Figure[] {
  const { output } = probe.stage.circuit.channels[channel]!;
  if (!isCapacitorCoupled(probe.stage.circuit, output)) return [];
  const read = ({ stage }: Probe): number => nodeVolts(stage.network, stage.point, output) * 1000;
  const { good, look } = limits.output_dc;
  return [
    {
      what: 'output_dc',
      channel,
      value: read(probe),
      unit: 'mV',
      side: 'within',
      good: good * 1000,
      look: look * 1000,
      hz: null,
      where: `node ${bareName(output)}`,
      search: read,
      follow: read,
    },
  ];
}

/** What the cartridge sees at 1 kHz as a resistance, in percent off what it should be. */
function inputResistanceFigure(probe: Probe, limits: Limits, channel: number): Figure {
  const { nominal, at, good, look } = limits.input_resistance;
  const read = ({ stage }: Probe): number => 100 * (1 / inputAdmittance(stage.small, channel)(at)[0] / nominal - 1);
  return {
    what: 'input_resistance',
    channel,
    value: read(probe),
    unit: '%',
    side: 'within',
    good: 100 * good,
    look: 100 * look,
    hz: at,
    where: `against ${printQuantity(nominal, 'Ω')} at ${printQuantity(at, 'Hz')}`,
    search: read,
    follow: read,
  };
}

/**
 * Every node of the drawn board that the state still has, in percent of its drawn voltage or of ten times the floor, whichever is more. Good
 * is what healthy boards of this drawing reach, look twice as much; where that is not known, or the file sets its own, the limit's percents.
 */
function nodeFigures(probe: Probe, limits: Limits, drawn: Probe): readonly Figure[] {
  const { good, look, floor } = limits.node_volts;
  const usual = mergeLimits().node_volts;
  const isUsual = good === usual.good && look === usual.look;
  const rails = new Set(probe.stage.circuit.rails.map(({ node }) => node));
  const channelNames = probe.stage.circuit.channels.map(({ name }) => name);
  return [...probe.stage.network.nodes.keys()]
    .filter((node) => !rails.has(node) && drawn.stage.network.nodes.has(node))
    .map((node): Figure => {
      const before = nodeVolts(drawn.stage.network, drawn.stage.point, node);
      const whole = Math.max(Math.abs(before), good > 0 ? floor / good : floor);
      const read = ({ stage }: Probe): number => (100 * (nodeVolts(stage.network, stage.point, node) - before)) / whole;
      const channel = channelNames.findIndex((name) => node.endsWith(`@${name}`));
      const reach = isUsual ? drawn.nodeReach?.get(node) : undefined;
      const own = reach === undefined ? null : (100 * Math.max(reach, floor)) / whole;
      return {
        what: 'node_volts',
        channel: channel < 0 ? null : channel,
        value: read(probe),
        unit: '%',
        side: 'within',
        good: own ?? 100 * good,
        look: own === null ? 100 * look : 2 * own,
        hz: null,
        where: `node ${bareName(node)} against drawn`,
        search: read,
        follow: read,
      };
    });
}
