import type { Readings } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import type { CheckAnswer, ComparedReading, ComparedRound, VoltageChart } from '@curvewright/verify';
import { decimals, none, quantity, signed, volts } from '../numbers.ts';
import { time } from '../readings-lines.ts';
import { channelLetter } from '../states-shown.ts';

/** Something that was read, beside what is computed for it. */
export interface ReadingFact {
  /** `found`, or `found, on for 10 min`. */
  readonly when: string;
  readonly what: string;
  readonly unit: string;
  readonly predicted: string;
  readonly read: string;
  /** Read minus predicted. */
  readonly off: string;
}

/** Voltages of the rebuilt board, a node a row. */
export interface VoltageFact {
  readonly node: string;
  /** By channel; one text for a node that they share. */
  readonly volts: readonly string[];
}

/** What was read, round by round: volts and ohms, then hiss, hum and pops. */
export function readingFacts(rounds: readonly ComparedRound[], answer: CheckAnswer): readonly ReadingFact[] {
  return rounds.flatMap(({ round, readings }) => [
    ...readings.map((reading) => meterFact(whenOf(round), reading)),
    ...levelFacts(round, answer),
  ]);
}

/** `10 MΩ, ±1 %` of every meter that was used. */
export function meterWords(rounds: readonly ComparedRound[]): readonly string[] {
  const words = rounds.flatMap(({ round: { meter, volts: read, ohms } }) => {
    if (read.length + ohms.length === 0) return [];
    if (meter === undefined) return ['a meter that draws no current'];
    const accuracy = `±${printQuantity(meter.accuracy, '%')}`;
    return 'resistance' in meter
      ? [`a meter of ${printQuantity(meter.resistance, 'Ω')}, ${accuracy}`]
      : [
          `a meter of ${printQuantity(meter.sensitivity, 'Ω/V')} on its ${printQuantity(meter.range, 'V')} range, ${accuracy} of it`,
        ];
  });
  return [...new Set(words)];
}

/** `as found: popping, right`. */
export function heardWords(rounds: readonly ComparedRound[]): readonly string[] {
  return rounds.flatMap(({ round: { state, heard } }) =>
    heard.map(({ what, channel }) => `as ${state}: ${what}${channel === undefined ? '' : `, ${channel}`}`),
  );
}

function whenOf({ state, onFor }: Readings): string {
  return onFor === undefined ? state : `${state}, on for ${time(onFor)}`;
}

function meterFact(when: string, { name, unit, read, predicted }: ComparedReading): ReadingFact {
  const print = (value: number): string => (unit === 'V' ? volts(value) : quantity(value, 'Ω').replace(/ ?Ω$/, ''));
  const isNumber = predicted !== null && Number.isFinite(predicted);
  return {
    ...{ when, what: name, unit, read: print(read) },
    predicted: predicted === null ? none : isNumber ? print(predicted) : 'open',
    off: isNumber && predicted !== 0 ? `${signed((100 * (read - predicted)) / Math.abs(predicted), 1)} %` : none,
  };
}

function levelFacts(round: Readings, answer: CheckAnswer): readonly ReadingFact[] {
  const { hiss = {}, hum = {}, pops = {} } = round;
  const computed = answer.states[round.state]?.channels ?? [];
  const of = (name: string): (typeof computed)[number] | undefined => computed.find((each) => each.name === name);
  const fact = (
    what: string,
    unit: string,
    read: number,
    predicted: number | null | undefined,
    count: number,
  ): ReadingFact => ({
    ...{ when: whenOf(round), what, unit, read: decimals(read, count) },
    predicted: decimals(predicted ?? NaN, count),
    off: predicted === undefined || predicted === null ? none : signed(read - predicted, count),
  });
  return [
    ...Object.entries(hiss).map(([name, value]) => fact(`hiss, ${name}`, 'µV', 1e6 * value, of(name)?.hissUv, 2)),
    ...Object.entries(hum).map(([name, value]) => fact(`hum, ${name}`, 'dB', value, of(name)?.humDb, 1)),
    ...Object.entries(pops).map(([name, value]) => fact(`pops, ${name}`, 'a minute', value, null, 1)),
  ];
}

/** Every node of the channels, then what they share. */
export function voltageFacts({ channels }: VoltageChart, shared: ReadonlySet<string>): readonly VoltageFact[] {
  const nodes = [...new Set(channels.flatMap((each) => each.nodes.map(({ node }) => node)))];
  const read = (c: number, node: string): string => {
    const found = channels[c]?.nodes.find((each) => each.node === node);
    return found === undefined || found.meterVolts === null ? none : volts(found.meterVolts);
  };
  return nodes
    .toSorted((a, b) => Number(shared.has(a)) - Number(shared.has(b)))
    .map((node) => ({ node, volts: shared.has(node) ? [read(0, node)] : channels.map((_, c) => read(c, node)) }));
}

/** `L` and `R` for the usual two. */
export function voltageHeads({ channels }: VoltageChart): readonly string[] {
  return channels.map(({ name }) => channelLetter(name));
}
