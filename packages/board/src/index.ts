export type * from './circuit.ts';
export type * from './diagnostics.ts';
export type * from './part-type.ts';
export type * from './board.ts';
export { expandPart, designatorsOf, type Expanded, type ExpansionScope } from './expand-part.ts';
export { readBoard } from './read-board.ts';
export { boardJsonSchema, typesJsonSchema, type Cartridge } from './schema/board-schema.ts';
export { defaultLimits, mergeLimits, type Limits, type PartialLimits } from './schema/limits-schema.ts';
export { capacitorBuilds, resistorBuilds, type BodySize, type PartEntry, type Seat } from './schema/part-schema.ts';
