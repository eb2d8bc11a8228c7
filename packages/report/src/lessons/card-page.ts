import type { CardFault, CardMeasurement, FaultCard } from '@curvewright/verify';
import { decimals, quantity, signed, volts } from '../numbers.ts';

/** A fault card in words: what is wrong, what can be measured, what it may be. */
export interface CardPage {
  readonly complaint: string;
  readonly measurements: readonly CardRow[];
  readonly suspects: readonly CardName[];
  /** Index of the right suspect. */
  readonly answer: number;
  /** The fewest measurements that leave it alone. */
  readonly fewest: number;
}

export interface CardRow {
  readonly label: string;
  readonly healthy: string;
  readonly reading: string;
}

export interface CardName {
  readonly label: string;
  /** What every measurement would read with it. */
  readonly readings: readonly string[];
  /** Indexes of the measurements that go another way with it than on the card. */
  readonly ruledOutBy: readonly number[];
}

const faultNames: Readonly<Record<CardFault, string>> = {
  ...{ dried: 'dried out', leaky: 'leaks', open: 'open', short: 'shorted', 'low hFE': 'low hFE', noisy: 'noisy' },
  'turned round': 'put in turned round',
};

export function cardPage(card: FaultCard): CardPage {
  const { measurements, healthy, suspects, answer, fewest } = card;
  const truth = suspects[answer];
  return {
    complaint: complaintOf(card),
    measurements: measurements.map((measurement, m) => ({
      label: named(measurement),
      healthy: written(measurement, healthy[m] ?? NaN),
      reading: written(measurement, truth?.readings[m] ?? NaN),
    })),
    suspects: suspects.map(({ ref, fault, readings, changes }) => ({
      label: `${ref} ${faultNames[fault]}`,
      readings: measurements.map((measurement, m) => written(measurement, readings[m] ?? NaN)),
      ruledOutBy: changes.flatMap((change, m) => (change === truth?.changes[m] ? [] : [m])),
    })),
    ...{ answer, fewest },
  };
}

function named(measurement: CardMeasurement): string {
  switch (measurement.what) {
    case 'volts':
      return `node ${measurement.node.split('@')[0] ?? ''}`;
    case 'level':
      return `level at ${quantity(measurement.hz, 'Hz', 2)}`;
    case 'gain':
      return 'gain at 1 kHz';
    case 'hiss':
      return 'hiss';
  }
}

function written({ unit, what }: CardMeasurement, value: number): string {
  switch (unit) {
    case 'V':
      return `${volts(value)} V`;
    case 'dB':
      return `${what === 'gain' ? decimals(value, 1) : signed(value, 1)} dB`;
    case 'µV':
      return `${decimals(value, 2)} µV`;
  }
}

/** What the customer hears of it. */
function complaintOf({ measurements, suspects, answer }: FaultCard): string {
  const changes = suspects[answer]?.changes ?? [];
  const changed = (test: (measurement: CardMeasurement) => boolean): string =>
    changes[measurements.findIndex(test)] ?? 'same';
  const at = (hz: number): string => changed((each) => each.what === 'level' && each.hz === hz);
  const gain = changed(({ what }) => what === 'gain');
  const said = [
    ...(gain === 'lower' ? ['One channel is quieter.'] : gain === 'higher' ? ['One channel is louder.'] : []),
    ...(at(20) === 'lower' ? ['Its bass is thin.'] : at(20) === 'higher' ? ['Its bass is heavy.'] : []),
    ...(at(10_000) === 'lower' ? ['Its treble is dull.'] : at(10_000) === 'higher' ? ['Its treble is sharp.'] : []),
    ...(changed(({ what }) => what === 'hiss') === 'higher' ? ['It hisses more.'] : []),
  ];
  return said.length === 0 ? 'Nothing is heard, but it does not feel right on the bench.' : said.join(' ');
}
