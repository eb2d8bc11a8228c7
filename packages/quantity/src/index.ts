export { preferredAbove, preferredBelow, preferredValues, nearestPreferred, type Series } from './preferred.ts';
export { printQuantity, printSigned } from './print-quantity.ts';
export { kelvin, readQuantity } from './read-quantity.ts';
export type { QuantityFault, Reading } from './reading.ts';
export { readTolerance } from './tolerance.ts';
export type { Unit } from './units.ts';
