import type { PartCommon, TypedPart } from './circuit.ts';
import { orderFault } from './expand-typed.ts';
import { suggestion } from './nearest.ts';
import type { PartType } from './part-type.ts';
import { kindInWords, typeKindInWords } from './piece-keys.ts';
import type { Refuse, Supply } from './supply.ts';
import { shown } from './schema/fields.ts';
import type { SwapEntry } from './schema/swap-schema.ts';
import { stated } from './stated.ts';

/**
 * A semiconductor or valve in the place of `drawn`: its type is the one the job names (for a part that is not fresh, else
 * the drawn one), with the figures measured on this piece in place of the type's.
 */
export function typedPiece(
  drawn: TypedPart,
  entry: SwapEntry,
  common: PartCommon,
  fresh: boolean,
  supply: Supply,
  refuse: Refuse,
): TypedPart | null {
  const typeName = entry.type ?? (fresh ? undefined : drawn.typeName);
  if (typeName === undefined) {
    refuse(
      'missing-key',
      'type',
      `${kindInWords(drawn)} is no part without its type; write the one that is fitted, as in type: ${drawn.typeName}`,
    );
    return null;
  }
  const known = Object.hasOwn(supply.types, typeName) ? supply.types[typeName] : undefined;
  const type = typeName === drawn.typeName && !fresh ? drawn.type : known;
  if (type === undefined) {
    refuse(
      'unknown-type',
      'type',
      `there is no type ${shown(typeName)}; ${suggestion(typeName, Object.keys(supply.types))}`,
    );
    return null;
  }
  if (!servesFor(type, drawn.type)) {
    refuse(
      'fit-mismatch',
      'type',
      `${typeName} is a type of ${typeKindInWords(type.kind)}, and ${drawn.position} is ${kindInWords(drawn)}; write a type of that kind`,
    );
    return null;
  }
  const order = orderFault(type.kind, entry.case_leads?.order);
  if (order !== null) refuse('lead-order', 'case_leads', order);
  return {
    ...common,
    kind: 'typed',
    typeName,
    leads: drawn.leads,
    type: ofThisPiece(type, entry),
    ...stated({ rails: drawn.rails }),
  };
}

/** Whether a part of the one type works on the leads of the other: the same kind, or diode and zener for each other. */
function servesFor(type: PartType, drawn: PartType): boolean {
  const family = (kind: PartType['kind']): string => (kind === 'zener' ? 'diode' : kind);
  return family(type.kind) === family(drawn.kind);
}

/** The type with the figures of one piece. The keys were checked before: only those of this kind of type are there. */
function ofThisPiece(type: PartType, entry: SwapEntry): PartType {
  const {
    hFE,
    VBE,
    noise_corner: noiseCorner,
    VF,
    VZ,
    IDSS,
    VGS_off,
    mu,
    rp,
    case_leads: caseLeads,
    case: caseForm,
  } = entry;
  const figures = stated({
    ...{ hFE: hFE?.points, hFELow: hFE?.low, hFEHigh: hFE?.high, VBE, noiseCorner },
    ...{ VF, VZ },
    ...{ IDSS, pinchOff: VGS_off === undefined ? undefined : Math.abs(VGS_off) },
    ...{ mu, rp },
    ...{ caseLeads, caseForm },
  });
  const { otherCases, ...ofOneCase } = type;
  const known = caseLeads === undefined && otherCases !== undefined ? { otherCases } : {};
  return { ...ofOneCase, ...known, ...figures };
}
