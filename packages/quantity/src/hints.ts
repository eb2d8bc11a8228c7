import { decimalOfUnit } from './arithmetic.ts';
import { printQuantity } from './print-quantity.ts';
import { type Reading, fault, quote } from './reading.ts';
import { type Unit, findUnit, findUnitInAnyCase, unitFacts } from './units.ts';
import { codeOfAnotherKind, markingValue } from './value-code.ts';

function example(unit: Unit): string {
  return `for example ${unitFacts[unit].example}`;
}

export function notAQuantity(what: string, unit: Unit): Reading<never> {
  const write = `write a number with its unit, ${example(unit)}`;
  return fault('not-a-quantity', `${quote(what)} is no quantity; ${write}`);
}

export function outOfRange(text: string, unit: Unit): Reading<never> {
  const what = `${quote(text)} is outside the numbers that can be computed with`;
  return fault('out-of-range', `${what}; write ${unitFacts[unit].noun}, ${example(unit)}`);
}

export function bareNumber(number: string, unit: Unit): Reading<never> {
  const shown = quote(number);
  const marked = markingValue(number, unit);
  if (marked !== undefined && printQuantity(marked, unit) !== `${shown} ${unit}`) {
    const meant = `write ${printMarked(marked, unit)} if the marking code ${shown} is meant`;
    return fault('bare-number', `${shown} has no unit; ${meant}, else its unit too, such as ${usual(shown, unit)}`);
  }
  const fraction = Number(number);
  if (unit === '%' && Math.abs(fraction) > 0 && Math.abs(fraction) <= 1) {
    const percent = printQuantity(fraction, '%', 17);
    return fault('bare-number', `${shown} has no unit; write ${percent} if a fraction is meant, else ${shown} %`);
  }
  return fault('bare-number', `${shown} has no unit; write its unit too, such as ${usual(shown, unit)}`);
}

/** A 104 is spoken of as 100 nF. */
function printMarked(value: number, unit: Unit): string {
  const nano = unit === 'F' && value >= 1e-9 && value < 1e-6;
  return nano ? `${decimalOfUnit(value, 2, 'n', unit)} nF` : printQuantity(value, unit);
}

/** The number with the unit it most often comes with; only for a message. */
function usual(number: string, unit: Unit): string {
  const value = Math.abs(Number(number));
  const prefix = unit === 'F' ? (value >= 100 ? 'p' : 'µ') : ['H', 'm', 'A'].includes(unit) ? 'm' : '';
  const density = unit === 'V/√Hz' ? 'n' : unit === 'A/√Hz' ? 'p' : prefix;
  return `${number} ${density}${unit}`;
}

export function commaDecimal(plain: string, unit: Unit): Reading<never> {
  const what = `${quote(plain)} has a comma in its number`;
  const points = plain.replace(/[^.,]/g, '').length;
  if (points > 1) return fault('comma-decimal', `${what}; write digits and at most one point, ${example(unit)}`);
  const decimal = quote(plain.replace(',', '.'));
  const thousands = /^[+-]?[1-9]\d{0,2},\d{3}(?!\d)/.test(plain) ? ` or ${quote(plain.replace(',', ''))}` : '';
  return fault('comma-decimal', `${what}; write ${decimal}${thousands}`);
}

/** Farads as old service sheets and can prints spell them. */
const oldFarads: ReadonlyMap<string, string> = new Map([
  ['mfd', 'µF'],
  ['mf', 'µF'],
  ['mmfd', 'pF'],
  ['mmf', 'pF'],
  ['µµf', 'pF'],
  ['uuf', 'pF'],
]);

export function unknownUnit(plain: string, number: string, writtenUnit: string, unit: Unit): Reading<never> {
  const other = codeOfAnotherKind(plain);
  if (other) {
    const what = `${quote(plain)} is the code of ${unitFacts[other].noun}`;
    return fault('wrong-unit', `${what}; write ${unitFacts[unit].noun}, ${example(unit)}`);
  }
  const old = unit === 'F' ? oldFarads.get(writtenUnit.toLowerCase()) : undefined;
  const meant = old ?? findUnitInAnyCase(writtenUnit, unit)?.printed ?? findUnit(writtenUnit + unit)?.printed;
  const write = meant === undefined ? `${unitFacts[unit].noun}, ${example(unit)}` : quote(`${number} ${meant}`);
  return fault('unknown-unit', `${quote(writtenUnit)} is no unit known here; write ${write}`);
}

export function wrongUnit(plain: string, number: string, writtenUnit: string, found: Unit, unit: Unit): Reading<never> {
  const what = `${quote(plain)} is ${unitFacts[found].noun}`;
  if (unit === 'Ω' && writtenUnit === 'm') {
    return fault(
      'wrong-unit',
      `${quote(plain)} may mean milli or mega; write ${quote(`${number} mΩ`)} or ${quote(`${number} MΩ`)}`,
    );
  }
  // A lone m is a metre to the reader of units, but milli to whoever wrote 20m for volts.
  const meant = findUnit(writtenUnit + unit);
  if (meant?.unit === unit) return fault('wrong-unit', `${what}; write ${quote(`${number} ${meant.printed}`)}`);
  return fault('wrong-unit', `${what}; write ${unitFacts[unit].noun}, ${example(unit)}`);
}
