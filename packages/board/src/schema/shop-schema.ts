import { choice, jsonSchemaOf, list, strict, text, version, type Field } from './fields.ts';

/** Whose sheets they are: what stands at the head of what a customer is handed. */
export interface Shop {
  readonly shop: 1;
  readonly name: string;
  /** A line each. */
  readonly address?: readonly string[];
  readonly phone?: string;
  readonly mail?: string;
  /** Terms, or a greeting, at the foot. */
  readonly note?: string;
  /** Absent: A4. */
  readonly paper?: 'A4' | 'Letter';
}

/** A shop file, kept beside the jobs or in a folder above them. */
export const shopSchema: Field<Shop> = strict({
  shop: version('shop'),
  name: text({ description: 'Name of the shop', examples: ['Bench on the Corner'] }),
  address: list(text({ description: 'A line of the address', examples: ['1 Mill Lane'] }), {
    description: 'Address, a line each',
    examples: ['[1 Mill Lane, Larkfield]'],
  }).exactOptional(),
  phone: text({ description: 'Telephone', examples: ['555 0100'] }).exactOptional(),
  mail: text({ description: 'Mail', examples: ['bench@shop.example'] }).exactOptional(),
  note: text({
    description: 'Terms or a greeting, at the foot of a sheet',
    examples: ['Parts on request'],
  }).exactOptional(),
  paper: choice(['A4', 'Letter'], { description: 'Paper that sheets are printed on: default A4' }).exactOptional(),
}).meta({ description: 'The shop, as its sheets name it' });

/** The JSON Schema (draft 2020-12) of a shop file. */
export function shopJsonSchema(): Record<string, unknown> {
  return { $schema: 'https://json-schema.org/draft/2020-12/schema', title: 'Shop file', ...jsonSchemaOf(shopSchema) };
}
