import type { Limits } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import type { Judged } from '../judge.ts';
import { bareName } from '../node-volts.ts';
import { isCapacitorCoupled } from '../output-coupling.ts';
import { channelFigures } from './board-row.ts';
import type { SpreadRunner } from './runner.ts';

/** A judged number that every board's row holds. Its own value is that of the nominal board. */
export interface SpreadFigure extends Judged {
  readonly place: number;
  /** From the row's number to the figure's. */
  readonly read: (number: number) => number;
}

type ChannelFigure = (typeof channelFigures)[number];

const sides: Readonly<Record<ChannelFigure, Judged['side']>> = {
  deviation: 'within',
  bass: 'at least',
  treble: 'within',
  ultrasonic: 'at most',
  subsonic_high: 'at most',
  subsonic_low: 'at most',
};

/** The figures that limits speak of and that a tolerance is drawn for: those of curve, gain, balance and bias. */
export function spreadFigures({
  plan,
  layout,
  nominal,
}: Pick<SpreadRunner, 'plan' | 'layout' | 'nominal'>): readonly SpreadFigure[] {
  const { circuit, limits, drawn } = plan;
  const figure = (
    place: number,
    rest: Omit<SpreadFigure, 'place' | 'read' | 'value' | 'hz'>,
    read: SpreadFigure['read'] = (number) => number,
  ): SpreadFigure => ({ ...rest, place, read, value: read(nominal[place]!), hz: null });

  const ofChannel = circuit.channels.flatMap((_, channel) => [
    ...channelFigures.map((what, n) => {
      const { good, look } = limits[what];
      const at = layout.figures + channel * channelFigures.length + n;
      return figure(at, { what, channel, unit: 'dB', side: sides[what], good, look, where: bandWords(limits[what]) });
    }),
    figure(
      layout.gain + channel,
      { what: 'gain', channel, unit: 'dB', side: 'within', ...limits.gain, where: 'at 1 kHz against drawn' },
      (db) => db - drawn.gainsDb[channel]!,
    ),
  ]);
  const [first, last] = [circuit.channels[0]!.name, circuit.channels.at(-1)!.name];
  const { good, look } = limits.balance;
  const balance =
    circuit.channels.length < 2
      ? []
      : [
          figure(layout.balance, {
            what: 'balance',
            channel: null,
            unit: 'dB',
            side: 'within',
            good,
            look,
            where: `${first} over ${last}`,
          }),
        ];
  return [...ofChannel, ...balance, ...outputFigures(), ...nodeFigures()];

  function outputFigures(): readonly SpreadFigure[] {
    const bounds = { good: limits.output_dc.good * 1000, look: limits.output_dc.look * 1000 };
    return circuit.channels.flatMap(({ output }, channel) => {
      if (!isCapacitorCoupled(circuit, output)) return [];
      const place = layout.volts + layout.nodes.indexOf(output);
      const where = `node ${bareName(output)}`;
      return [
        figure(place, { what: 'output_dc', channel, unit: 'mV', side: 'within', ...bounds, where }, (v) => v * 1000),
      ];
    });
  }

  function nodeFigures(): readonly SpreadFigure[] {
    const { good, look, floor } = limits.node_volts;
    const bounds = { good: 100 * good, look: 100 * look };
    return layout.nodes.flatMap((node, n) => {
      const before = drawn.volts[node];
      if (before === undefined) return [];
      const whole = Math.max(Math.abs(before), good > 0 ? floor / good : floor);
      const index = circuit.channels.findIndex(({ name }) => node.endsWith(`@${name}`));
      const channel = index < 0 ? null : index;
      const where = `node ${bareName(node)} against drawn`;
      return [
        figure(
          layout.volts + n,
          { what: 'node_volts', channel, unit: '%', side: 'within', ...bounds, where },
          (v) => (100 * (v - before)) / whole,
        ),
      ];
    });
  }
}

function bandWords(limit: Limits[ChannelFigure]): string {
  if ('at' in limit) return `at ${printQuantity(limit.at, 'Hz')}`;
  return `${printQuantity(limit.from, 'Hz')} to ${printQuantity(limit.to, 'Hz')}`;
}
