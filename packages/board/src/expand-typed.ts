import type { PartCommon, TypedPart } from './circuit.ts';
import type { NodeAt, Report } from './expand-nodes.ts';
import { leadLetter } from './leads.ts';
import { suggestion } from './nearest.ts';
import type { PartType } from './part-type.ts';
import { shown } from './schema/fields.ts';
import type { TypedEntry } from './schema/part-schema.ts';
import { stated } from './stated.ts';

const leadsOfKinds: Readonly<Record<PartType['kind'], readonly string[]>> = {
  npn: ['collector', 'base', 'emitter'],
  pnp: ['collector', 'base', 'emitter'],
  diode: ['anode', 'cathode'],
  zener: ['anode', 'cathode'],
  opamp: ['plus', 'minus', 'out'],
  'jfet-n': ['drain', 'gate', 'source'],
  'jfet-p': ['drain', 'gate', 'source'],
  triode: ['anode', 'grid', 'cathode'],
};

/** The part with its type and its leads; null once it is taken down that the type is unknown or has other leads. */
export function expandTyped(
  common: PartCommon,
  entry: TypedEntry,
  types: Readonly<Record<string, PartType>>,
  nodeAt: NodeAt,
  report: Report,
): TypedPart | null {
  const typeName = entry.type;
  const type = Object.hasOwn(types, typeName) ? types[typeName] : undefined;
  if (type === undefined) {
    report(
      'unknown-type',
      ['type'],
      'value',
      `there is no type ${shown(typeName)}; ${suggestion(typeName, Object.keys(types))}`,
    );
    return null;
  }
  const names = leadsOfKinds[type.kind];
  const wanted = `write ${names.join(', ')}`;
  const missing = names.filter((name) => entry.leads[name] === undefined);
  const strange = Object.keys(entry.leads).filter((name) => !names.includes(name));
  for (const name of strange) report('type-leads', [name], 'key', `${typeName} has no ${name}; ${wanted}`);
  if (missing.length > 0 && strange.length === 0) {
    report('type-leads', [], 'key', `${missing.join(', ')} of ${typeName} is joined to nothing; ${wanted}`);
  }
  if (entry.rails !== undefined && type.kind !== 'opamp') {
    report('type-leads', ['rails'], 'key', `${typeName} has no rails; only an op-amp has`);
  }
  const letters = orderFault(type.kind, entry.seat?.holes);
  if (letters !== null) report('lead-order', ['seat', 'holes'], 'value', letters);
  if (missing.length > 0 || strange.length > 0) return null;
  const leads = names.map((name) => [name, nodeAt(entry.leads[name] ?? '', [name])] as const);
  const rails = entry.rails?.map((written, index) => nodeAt(written, ['rails', index]));
  return {
    ...common,
    kind: 'typed',
    typeName,
    type,
    leads: Object.fromEntries(leads),
    ...stated({ rails: rails === undefined ? undefined : ([rails[0] ?? '', rails[1] ?? ''] as const) }),
  };
}

/** Why a lead order cannot be one of this kind of type; null where it can, or is not stated. */
export function orderFault(kind: PartType['kind'], order: string | undefined): string | null {
  // The leads of an op-amp are numbered pins; letters say nothing about it.
  if (order === undefined || kind === 'opamp') return null;
  const letters = leadsOfKinds[kind].map(leadLetter);
  return [...order].sort().join('') === [...letters].sort().join('')
    ? null
    : `${order} is no order of its leads; write ${letters.join(', ')} in their order, as in ${letters.join('')}`;
}
