import { nominalFrequencies } from '@curvewright/curves';
import { solveResponse } from '@curvewright/network';
import { sourceWords } from './source-words.ts';
import type { Stage } from './stage.ts';

/** Separation between the channels, through rails and common nodes only. */
export interface CrosstalkAnswer {
  readonly source: string;
  readonly leftOut: string;
  readonly points: readonly SeparationPoint[];
  /** What each channel hears of the others at 1 kHz: the least separation, dB; null where nothing leads there, or there is one channel. */
  readonly channels: readonly { readonly name: string; readonly crosstalkDb: number | null }[];
}

/** `from` is driven, the other terminated alike: 20 lg of the outputs |from| / |to|; null where nothing leads across. */
export interface SeparationPoint {
  readonly hz: number;
  readonly from: string;
  readonly to: string;
  readonly db: number | null;
}

const frequencies = nominalFrequencies(20, 20_000);

const leftOut = 'Through rails and common nodes only: stray capacitance, wiring and earth loops are not modelled.';
const opAmpsLeftOut = ' Op-amps are taken to draw their output current from gnd, not from their rails.';

export function crosstalkAnswer(stage: Stage, cartridge?: string): CrosstalkAnswer {
  const names = stage.circuit.channels.map(({ name }) => name);
  const separations = separationsOf(stage, frequencies);
  const hasOpAmps = stage.network.amplifiers.length > 0;
  return {
    source: sourceWords(stage.source, cartridge),
    leftOut: hasOpAmps ? leftOut + opAmpsLeftOut : leftOut,
    points: frequencies.flatMap((hz, n) =>
      separations.map(({ from, to, db }) => ({ hz, from, to, db: db[n] ?? null })),
    ),
    channels: names.map((name) => ({ name, crosstalkDb: leastHeard(name, separations, frequencies.indexOf(1000)) })),
  };
}

/** What each channel hears of the others at a frequency, dB: as the answer's `crosstalkDb`, of one solve. */
export function separationsAt(stage: Stage, hz: number): readonly (number | null)[] {
  const separations = separationsOf(stage, [hz]);
  return stage.circuit.channels.map(({ name }) => leastHeard(name, separations, 0));
}

function leastHeard(name: string, separations: readonly Separation[], n: number): number | null {
  const heard = separations.filter(({ to }) => to === name).flatMap(({ db }) => db[n] ?? []);
  return heard.length === 0 ? null : Math.min(...heard);
}

interface Separation {
  readonly from: string;
  readonly to: string;
  /** Over the frequencies. */
  readonly db: readonly (number | null)[];
}

function separationsOf(stage: Stage, hz: readonly number[]): readonly Separation[] {
  const { channels } = stage.circuit;
  const { gains } = solveResponse(stage.small, Float64Array.from(hz));
  const magnitude = (from: number, to: number, n: number): number => {
    const flat = gains[from]?.[to];
    return Math.hypot(flat?.[2 * n] ?? NaN, flat?.[2 * n + 1] ?? NaN);
  };
  return channels.flatMap((driven, from) =>
    channels.flatMap((heard, to) => {
      if (to === from) return [];
      const db = hz.map((_, n) => {
        const leaked = magnitude(from, to, n);
        return leaked > 0 ? 20 * Math.log10(magnitude(from, from, n) / leaked) : null;
      });
      return [{ from: driven.name, to: heard.name, db }];
    }),
  );
}
