import type { Rail } from '@curvewright/board';
import { nominalFrequencies } from '@curvewright/curves';
import { railTransfer, withoutCapacitance, type RailTransfer } from '@curvewright/network';
import { gainReader, type GainReader } from './gain-reader.ts';
import { programmeVolts, programmeWords, sourceWords } from './source-words.ts';
import type { Stage } from './stage.ts';

/** What each supply's ripple does at the outputs, through rails and common nodes only. */
export interface HumAnswer {
  readonly source: string;
  readonly reference: string;
  readonly leftOut: string;
  readonly rails: readonly RailHum[];
  readonly channels: readonly ChannelHum[];
}

export interface RailHum {
  readonly rail: string;
  /** V rms of the fundamental behind the rail's resistance, and its Hz; null where the board states none. */
  readonly rippleV: number | null;
  readonly rippleHz: number | null;
  readonly channels: readonly {
    readonly name: string;
    /** V at the output over V of the supply, dB; null where nothing leads there. */
    readonly points: readonly { readonly hz: number; readonly db: number | null }[];
    /** Of the ripple's fundamental and harmonics, rms; null where no ripple is stated. */
    readonly outputMv: number | null;
  }[];
  /** Capacitors between rails, common nodes and gnd: how much louder this rail's hum would be at `hz` without their capacitance. */
  readonly decouplers: readonly {
    readonly ref: string;
    readonly hz: number;
    readonly channels: readonly { readonly name: string; readonly db: number | null }[];
  }[];
}

export interface ChannelHum {
  readonly name: string;
  /** Of all rails together, rms, as if they were not in step; null where no rail states a ripple. */
  readonly outputMv: number | null;
  /** Over what the programme makes at the output; null too where no hum reaches it. */
  readonly humDb: number | null;
}

const spectrumFrequencies = nominalFrequencies(20, 20_000);

/** Hz at which decouplers are compared where no ripple frequency is stated: full-wave ripple on 50 Hz mains. */
const usualRippleHz = 100;

const leftOut =
  'Through rails and common nodes only: pick-up from transformer and wiring, earth loops and heaters are not modelled.';

export function humAnswer(stage: Stage, cartridge?: string): HumAnswer {
  const { rails, channels } = stage.circuit;
  const transfer = railTransfer(stage.network, stage.small);
  const outputs = programmeOutputs(gainReader(stage), channels.length);
  const answers = rails.map((rail, index) => railHum(stage, transfer, rail, index));
  return {
    source: sourceWords(stage.source, cartridge),
    reference: programmeWords,
    leftOut,
    rails: answers,
    channels: channels.map(({ name }, channel) => {
      const stated = answers.flatMap(({ channels: each }) => each[channel]?.outputMv ?? []);
      const outputMv = stated.length === 0 ? null : Math.hypot(...stated);
      return { name, outputMv, humDb: outputMv === null ? null : decibels(outputMv / 1e3 / outputs[channel]!) };
    }),
  };
}

/** V rms that the programme makes at each output. */
function programmeOutputs(reader: GainReader, channels: number): readonly number[] {
  return Array.from({ length: channels }, (_, channel) => programmeVolts * 10 ** (reader.gainDb(channel, 1000) / 20));
}

/** Each channel's `humDb` as the answer has it, of the ripple's lines alone. */
export function humLevels({ circuit, network, small }: Stage, reader: GainReader): readonly (number | null)[] {
  const transfer = railTransfer(network, small);
  const outputs = programmeOutputs(reader, circuit.channels.length);
  return outputs.map((programme, channel) => {
    const volts = circuit.rails.flatMap((rail, index) =>
      rippleLines(rail).map((line) => line.volts * (transfer.at(line.hz)[index]?.[channel] ?? NaN)),
    );
    return decibels(Math.hypot(...volts) / programme);
  });
}

function railHum(stage: Stage, transfer: RailTransfer, rail: Rail, index: number): RailHum {
  const { channels, common, parts, rails } = stage.circuit;
  const lines = rippleLines(rail);
  const frequencies = [...new Set([...spectrumFrequencies, ...lines.map(({ hz }) => hz)])].sort((a, b) => a - b);
  const across = frequencies.map((hz) => transfer.at(hz)[index] ?? []);
  const atLines = lines.map(({ hz }) => transfer.at(hz)[index] ?? []);
  const hz = rail.rippleFrequency ?? usualRippleHz;
  const withAll = transfer.at(hz)[index] ?? [];
  const shared = new Set(['gnd', ...rails.map(({ node }) => node), ...common]);
  return {
    rail: rail.node,
    rippleV: rail.ripple ?? null,
    rippleHz: rail.rippleFrequency ?? null,
    channels: channels.map(({ name }, channel) => ({
      name,
      points: frequencies.map((at, n) => ({ hz: at, db: decibels(across[n]?.[channel] ?? NaN) })),
      outputMv:
        lines.length === 0
          ? null
          : 1e3 * Math.hypot(...lines.map(({ volts }, n) => volts * (atLines[n]?.[channel] ?? NaN))),
    })),
    decouplers: parts.flatMap((part) => {
      if (part.kind !== 'capacitor' || !shared.has(part.plus) || !shared.has(part.minus)) return [];
      const { ref } = part;
      const without =
        railTransfer(stage.network, withoutCapacitance(stage.network, stage.point, ref)).at(hz)[index] ?? [];
      const louder = channels.map(({ name }, channel) => ({
        name,
        db: decibels((without[channel] ?? NaN) / (withAll[channel] ?? NaN)),
      }));
      return [{ ref, hz, channels: louder }];
    }),
  };
}

/** The fundamental and the harmonics of a rail's ripple, V rms; none where it states no ripple. */
export function rippleLines({ ripple, rippleFrequency, harmonics }: Rail): readonly { hz: number; volts: number }[] {
  if (ripple === undefined || rippleFrequency === undefined) return [];
  return [1, ...(harmonics ?? [])].map((over, n) => ({ hz: rippleFrequency * (n + 1), volts: ripple * over }));
}

function decibels(ratio: number): number | null {
  return ratio > 0 && ratio < Infinity ? 20 * Math.log10(ratio) : null;
}
