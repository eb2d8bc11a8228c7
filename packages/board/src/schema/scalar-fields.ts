import { readQuantity, readTolerance, type Unit } from '@curvewright/quantity';
import type { DiagnosticCode } from '../diagnostics.ts';
import { suggestion } from '../nearest.ts';
import { asText, field, shown, type Field, type Read, type Sign, type Told } from './field.ts';

const unitInWords: Partial<Record<Unit, string>> = {
  '%': 'percent, read as a fraction',
  m: 'm, usually written in mm',
};

/** A number with its unit, read into SI (percent into a fraction). */
export function quantity(unit: Unit, told: Told & Sign): Field<number> {
  const { description, examples = [] } = told;
  const shape = { type: 'string', description: `${description} [${unitInWords[unit] ?? unit}]`, examples };
  return field(shape, (input) => {
    if (typeof input === 'object')
      return { code: 'wrong-form', message: `needs one value${examples[0] ? `; write ${examples[0]}` : ''}` };
    const reading = readQuantity(input, unit);
    if (!reading.ok) return { code: reading.fault, message: reading.message };
    return signed(reading.value, told, asText(input), examples[0]);
  });
}

function signed(value: number, sign: Sign, written: string, example = ''): Read<number> {
  const offer = example === '' ? '' : `, such as ${example}`;
  if (sign.positive && !(value > 0))
    return { code: 'out-of-range', message: `${written} cannot be; write a value above 0${offer}` };
  if (sign.notNegative && !(value >= 0))
    return { code: 'out-of-range', message: `${written} cannot be; write 0 or a value above it${offer}` };
  return { value };
}

/** `5 %`, `-20/+80 %` or a tolerance letter, as fractions. */
export function tolerance(): Field<{ readonly minus: number; readonly plus: number }> {
  const shape = {
    type: 'string',
    description: 'Tolerance of the value: percent, two percentages, or an IEC 60062 letter',
    examples: ['5 %', '-20/+80 %', 'J'],
  };
  return field(shape, (input) => {
    if (typeof input === 'object') return { code: 'wrong-form', message: 'needs one value; write 5 %' };
    const reading = readTolerance(input);
    return reading.ok ? { value: reading.value } : { code: reading.fault, message: reading.message };
  });
}

const plainNumberForm = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i;

/** A number that has no unit: a loss factor, a current gain. */
export function plainNumber(told: Told & Sign): Field<number> {
  const { description, examples = [] } = told;
  const shape = { type: 'number', description, examples: examples.map(Number) };
  return field<number>(shape, (input) => {
    const written = asText(input);
    const offer = examples[0] === undefined ? '' : `; write ${examples[0]}`;
    if (typeof input === 'string' && /^[-+]?\d+,\d+$/.test(input))
      return { code: 'comma-decimal', message: `${input} has a comma; write ${input.replace(',', '.')}` };
    if (typeof input !== 'number' && !(typeof input === 'string' && plainNumberForm.test(input)))
      return { code: 'wrong-form', message: `needs a number without a unit${offer}` };
    const value = Number(input);
    if (!Number.isFinite(value)) return { code: 'out-of-range', message: `${written} is too large${offer}` };
    return signed(value, told, written, examples[0]);
  });
}

/** Free text, kept as written. */
export function text(told: Told): Field<string> {
  // A serial number in digits reads as a number elsewhere; here it stays as written.
  return field({ type: ['string', 'number'], ...told }, (input) =>
    typeof input === 'string' ? { value: input } : { code: 'wrong-form', message: 'needs a text' },
  );
}

/** One word of a closed list. */
export function choice<const T extends string>(values: readonly T[], told: Told): Field<T> {
  const shape = { type: 'string', enum: values, ...told, examples: told.examples ?? values.slice(0, 1) };
  return field(shape, (input) => {
    const value = values.find((each) => each === input);
    if (value !== undefined) return { value };
    const message =
      typeof input === 'string'
        ? `${shown(input)} is not known; ${suggestion(input, values)}`
        : `needs one word; write one of ${values.join(', ')}`;
    return { code: 'wrong-form', message };
  });
}

/** `true` or `false`. */
export function flag(told: Told): Field<boolean> {
  return field<boolean>({ type: 'boolean', ...told }, (input) => {
    if (input === true || input === 'true') return { value: true };
    if (input === false || input === 'false') return { value: false };
    return { code: 'wrong-form', message: 'needs yes or no; write true or false' };
  });
}

/** The version of a file format: the file's first key, `board: 1`. */
export function version(format: string): Field<1> {
  return field<1>({ const: 1, description: `Version of the ${format} file format`, examples: ['1'] }, (input) =>
    input === 1 || input === '1'
      ? { value: 1 }
      : { code: 'wrong-version', message: `version ${shown(input)} is not known; write 1` },
  );
}

/** Letters and digits that fit `pattern`; anything else raises `code`. */
export function matching(pattern: RegExp, code: DiagnosticCode, told: Told): Field<string> {
  return field({ type: 'string', pattern: pattern.source, ...told }, (input) => {
    if (typeof input === 'string' && pattern.test(input)) return { value: input };
    const written = typeof input === 'object' ? 'has the wrong form' : `${shown(input)} has the wrong form`;
    return { code, message: `${written}; write ${told.examples?.join(' or ') ?? told.description}` };
  });
}
