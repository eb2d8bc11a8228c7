import { key, type Key } from './composite-fields.ts';
import type { Field } from './field.ts';
import { matching } from './scalar-fields.ts';

/** A designator in the style of IEC 60617 and IEEE 315: letters, digits, a letter for a part of a package. */
const designatorForm = '[A-Z]{1,3}[0-9]{1,5}[A-Z]?';

/** The name of a node: letters, digits, underscore; with `@` and a channel where one channel's node is meant. */
const nodePattern = /^[A-Za-z0-9_]+(@[A-Za-z][A-Za-z0-9_]*)?$/;

/** A node as a lead names it. */
export function node(description: string): Field<string> {
  return matching(nodePattern, 'wrong-form', { description, examples: ['b1', 'gnd', 'out@left'] });
}

/** One designator, or one for each channel joined by `/`. */
export const positionKey: Key = key(new RegExp(`^${designatorForm}(/${designatorForm})*$`), 'not-a-designator', {
  description: 'Reference designator, or one for each channel in their order',
  examples: ['R101', 'R101/R102'],
});

/** Designators of parts that are alike, joined by `/`. */
export const alikeParts: Field<string> = matching(
  new RegExp(`^${designatorForm}(/${designatorForm})+$`),
  'not-a-designator',
  { description: 'Designators joined by /', examples: ['Q101/Q102'] },
);

/** A name of a type, a cartridge, a switch's position. */
export const nameKey: Key = key(/^[A-Za-z0-9][A-Za-z0-9 _.+/()-]*$/, 'wrong-form', {
  description: 'Name: letters, digits, - _ . + / ( )',
  examples: ['HN-A'],
});
