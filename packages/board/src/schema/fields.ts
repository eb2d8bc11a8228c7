/** The whole vocabulary of the file formats in one place. */
export { addFault, field, jsonSchemaOf, shown, type Field, type Told } from './field.ts';
export { choice, flag, matching, plainNumber, quantity, text, tolerance, version } from './scalar-fields.ts';
export {
  figureAt,
  hasKey,
  isKind,
  isList,
  isMap,
  isText,
  key,
  list,
  oneOf,
  strict,
  table,
} from './composite-fields.ts';
export { alikeParts, nameKey, node, positionKey } from './name-fields.ts';
