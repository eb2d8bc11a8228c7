import type { BigNumber } from 'mathjs';
// The single-file form of the library: the many-file form takes four times as long to load.
import bundle from 'mathjs/lib/browser/math.js';
import { type Unit, prefixed, unitFacts } from './units.ts';

// An instance of our own, for its units are changed below.
const math = bundle.create({ number: 'BigNumber', precision: 64 });
math.createUnit('benchDecibel');
math.createUnit('benchFraction');
math.createUnit('benchPercent', '0.01 benchFraction');
// A scale of its own, for the library's degree goes through kelvin and back and loses the last digits of small values.
math.createUnit('benchCelsius');

/** The unit without prefix in which values are kept; percentages are kept as fractions. */
function kept(unit: Unit): string {
  return unit === '%' ? 'benchFraction' : unitFacts[unit].expression;
}

function convert(value: BigNumber, from: string, to: string): BigNumber {
  return math.unit(value, from).toNumeric(to) as BigNumber;
}

/**
 * The value of a decimal number of a prefixed unit, in the unit without prefix. Decimal arithmetic up to the last step,
 * so `100` of `nF` is the double nearest to 1e-7. Infinite or zero where a double cannot hold it.
 */
export function valueInUnit(decimal: string, expression: string, unit: Unit): number {
  return Number(convert(math.bignumber(decimal), expression, kept(unit)).toString());
}

/** A finite value rounded to significant decimal digits, as plain decimal text of the prefixed unit. */
export function decimalOfUnit(value: number, digits: number, prefix: string, unit: Unit): string {
  const rounded = math.bignumber(String(value)).toSignificantDigits(digits);
  return convert(rounded, kept(unit), prefixed(prefix, unitFacts[unit].expression)).toFixed();
}
