import type { ChannelPops, PopsChange } from '@curvewright/capture';
import { decimals, none, quantity } from './numbers.ts';

export function minutesText(minutes: number): string {
  return `${decimals(minutes, minutes < 10 ? 2 : 1).replace(/\.?0+$/, '')} min`;
}

/** `left: 0 in 20 min: below 0.15 per minute, 95 %`. */
export function rateWords({ name, count, minutes, ratePerMin, rateLowPerMin, rateHighPerMin }: ChannelPops): string {
  const high = `below ${digits(rateHighPerMin)} per minute, 95 %`;
  if (count === 0) return `${name}: 0 in ${minutesText(minutes)}: ${high}`;
  const rate = `${digits(ratePerMin)} per minute`;
  return `${name}: ${count} in ${minutesText(minutes)}: ${rate}; above ${digits(rateLowPerMin)} with 95 %, ${high}`;
}

/** Two digits, as a count's own spread allows no more. */
export function digits(value: number): string {
  return value >= 100 ? decimals(value, 0) : String(Number(value.toPrecision(2)));
}

/** µV at the input where it is known, else dB re full scale. */
export function heightText(height: { readonly uv: number | null; readonly share: number } | null | undefined): string {
  if (height === null || height === undefined) return none;
  if (height.uv !== null) return quantity(height.uv / 1e6, 'V', 2);
  return `${decimals(20 * Math.log10(Math.abs(height.share)), 1)} dBFS`;
}

export function changeWords({ name, before, after, ratio, ratioLow, ratioHigh, chance, verdict }: PopsChange): string {
  const high = ratioHigh === null ? 'nothing bounds it above' : `below ${digits(ratioHigh)}, 95 %`;
  const times =
    ratio === null
      ? ''
      : ` The rate is ${digits(ratio)} times the one before; above ${digits(ratioLow)} with 95 %, ${high}.`;
  return `${name}: ${before} before, ${after} after: ${verdict} (by chance alone ${digits(100 * chance)} %).${times}`;
}

/** A drift of less than the wander about it is none. */
export function driftWords(name: string, drift: ChannelPops['drift'], recorderV: number | null): readonly string[] {
  if (drift === null || Math.abs(drift.to - drift.from) < drift.wander) return [];
  const level = (share: number): string =>
    recorderV === null
      ? `${decimals(1e6 * share, 1)} ppm of full scale`
      : quantity(share * Math.SQRT2 * recorderV, 'V', 3);
  return [
    `${name}: the level (dc) drifts from ${level(drift.from)} to ${level(drift.to)} at the recorder, ${level(drift.perMin)} a minute.`,
  ];
}
