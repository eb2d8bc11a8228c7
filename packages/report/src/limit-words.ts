import type { Finding } from '@curvewright/verify';
import type { Limits } from '@curvewright/board';
import { decimals, signed } from './numbers.ts';

type What = Finding['what'];

/** What a limit's key is called on the bench. */
export const wordsOf: Readonly<Record<What, string>> = {
  deviation: 'deviation',
  bass: 'bass',
  treble: 'treble',
  ultrasonic: 'ultrasonic peak',
  subsonic_high: 'subsonic peak',
  subsonic_low: 'deep subsonic peak',
  gain: 'gain',
  balance: 'balance',
  output_dc: 'DC at the output',
  node_volts: 'bias',
  crosstalk: 'crosstalk',
  hiss: 'hiss',
  hum: 'hum',
  overload: 'overload',
  distortion: 'distortion',
  input_resistance: 'input resistance',
  stability: 'stability',
  settle: 'settling',
  rating: 'rating',
  polarity: 'polarity',
  leads: 'leads',
  seat: 'seat',
  ceramic: 'ceramic',
};

type Unit = Finding['unit'];

/** Decimals that a value of a unit carries on a page. */
const digits: Readonly<Record<Unit, number>> = {
  ...{ dB: 2, '%': 1, mV: 1, µV: 2, s: 1, Q: 2, '°': 0 },
  ...{ V: 2, mA: 2, mW: 1, mm: 1, leads: 0 },
};

/** Figures that are magnitudes: a sign would mean a change. */
const unsigned: readonly What[] = [
  ...(['crosstalk', 'hiss', 'overload', 'distortion', 'stability', 'settle'] as const),
  ...(['rating', 'polarity', 'leads', 'seat', 'ceramic'] as const),
];

/** A finding's number, with its sign where it is a change or a level; a Q stands as `Q 1.8`. */
export function numberWords({ what, value, unit }: Pick<Finding, 'what' | 'value' | 'unit'>): string {
  const number = unsigned.includes(what) ? decimals(value, digitsOf(what, unit)) : signed(value, digitsOf(what, unit));
  return unit === 'Q' ? `Q ${number}` : number;
}

/** The unit behind a finding's number. */
export function unitWords({ unit }: Pick<Finding, 'unit'>): string {
  return unit === 'Q' ? '' : ` ${unit}`;
}

export function valueWords(finding: Pick<Finding, 'what' | 'value' | 'unit'>): string {
  return numberWords(finding) + unitWords(finding);
}

/** Distortion is told in thousandths: its limit is a tenth of a percent. */
function digitsOf(what: What, unit: Unit): number {
  return what === 'distortion' ? 3 : digits[unit];
}

/** A limit's good bound: `±0.5 dB`, `−1.5 dB`, `+6 dB`; of a part, what it is allowed. */
function boundWords({ what, unit, value, margin, bound = '' }: Finding, limits: Limits): string {
  switch (what) {
    case 'rating':
    case 'polarity':
    case 'leads':
    case 'seat':
    case 'ceramic':
      return bound;
    case 'deviation':
    case 'treble':
    case 'gain':
    case 'balance':
      return `±${short(limits[what].good)} dB`;
    case 'bass':
      return `${sign(limits.bass.good)} dB`;
    case 'ultrasonic':
    case 'subsonic_high':
    case 'subsonic_low':
      return `${sign(limits[what].good)} dB`;
    case 'output_dc':
      return `±${short(limits.output_dc.good * 1000)} mV`;
    case 'node_volts':
      // Each node is held against what healthy boards reach at it.
      return `±${short(Math.abs(value) + margin)} %`;
    case 'input_resistance':
      return `±${short(limits[what].good * 100)} %`;
    case 'crosstalk':
    case 'hum':
      return `${short(limits[what].good)} dB`;
    case 'hiss':
      return `${short(limits.hiss.good * 1e6)} µV`;
    case 'overload':
      return `${short(limits.overload.good * 1000)} mV`;
    case 'distortion':
      return `${short(limits.distortion.good * 100)} %`;
    case 'stability':
      return unit === 'Q' ? `Q ${short(limits.stability.q)}` : `${short(limits.stability.margin)} °`;
    case 'settle':
      return `${short(limits.settle.good)} s`;
  }
}

/** `0.12 dB outside ±0.5 dB`, `0.38 dB inside −1.5 dB`. */
export function marginWords(finding: Finding, limits: Limits): string {
  const { what, margin, unit, bound = '' } = finding;
  if (Number.isNaN(margin)) return bound;
  const side = margin < 0 ? 'outside' : 'inside';
  const distance = decimals(Math.abs(margin), digitsOf(what, unit));
  return `${distance}${unitWords({ unit })} ${side} ${boundWords(finding, limits)}`;
}

/** The margin by itself, with its sign: `−0.9 mm`. */
export function marginOf({ what, margin, unit }: Pick<Finding, 'what' | 'margin' | 'unit'>): string {
  return decimals(margin, digitsOf(what, unit)) + unitWords({ unit });
}

/** Value and margin; nothing where a finding is told by its place alone. */
export function measureWords(finding: Finding, limits: Limits): string {
  const { what } = finding;
  return what === 'leads' || what === 'ceramic' ? '' : `: ${valueWords(finding)}, ${marginWords(finding, limits)}`;
}

function short(value: number): string {
  return decimals(Number(value.toPrecision(3)), 3).replace(/\.?0+$/, '');
}

function sign(value: number): string {
  return value > 0 ? `+${short(value)}` : short(value);
}
