import { db, type Axis } from '@curvewright/report';

/** A value of an axis with its unit, `−0.62 dB`. */
export function valueText(value: number, axis: Axis): string {
  return `${numberText(value, axis)} ${axis.unit}`;
}

/** Hundredths of a dB, three digits of anything else. */
export function numberText(value: number, { unit }: Axis): string {
  return unit === 'dB' ? db(value) : String(Number(value.toPrecision(3))).replace('-', '−');
}
