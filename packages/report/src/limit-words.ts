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
};

type Unit = Finding['unit'];

/** A finding's value: two decimals for dB, one for percent and millivolts, always with its sign. */
export function valueWords(value: number, unit: Unit): string {
  return `${signed(value, unit === 'dB' ? 2 : 1)} ${unit}`;
}

/** A limit's good bound: `±0.5 dB`, `−1.5 dB`, `+6 dB`. */
function boundWords(what: What, limits: Limits): string {
  switch (what) {
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
      return `±${short(limits.node_volts.good * 100)} %`;
  }
}

/** `0.12 dB outside ±0.5 dB`, `0.38 dB inside −1.5 dB`. */
export function marginWords({ what, margin, unit }: Finding, limits: Limits): string {
  const side = margin < 0 ? 'outside' : 'inside';
  return `${decimals(Math.abs(margin), unit === 'dB' ? 2 : 1)} ${unit} ${side} ${boundWords(what, limits)}`;
}

function short(value: number): string {
  return decimals(Number(value.toPrecision(3)), 3).replace(/\.?0+$/, '');
}

function sign(value: number): string {
  return value > 0 ? `+${short(value)}` : short(value);
}
