import type { Part } from '@curvewright/board';
import type { Series, Unit } from '@curvewright/quantity';

/** A part's main value, and the series in which such parts are made. */
export interface PartValue {
  readonly value: number;
  readonly unit: Unit;
  readonly series: Series;
}

/** Null for a part without a value. The series are common practice, no source. */
export function partValue(part: Part): PartValue | null {
  switch (part.kind) {
    case 'resistor':
      return { value: part.ohms, unit: 'Ω', series: 'E24' };
    case 'trimmer':
      return { value: part.ohms, unit: 'Ω', series: 'E3' };
    case 'inductor':
      return { value: part.henries, unit: 'H', series: 'E12' };
    case 'capacitor':
      return { value: part.farads, unit: 'F', series: isElectrolytic(part.build) ? 'E6' : 'E12' };
    case 'switch':
    case 'typed':
      return null;
  }
}

function isElectrolytic(build: string | undefined): boolean {
  return build !== undefined && ['aluminium', 'aluminium_bipolar', 'tantalum'].includes(build);
}

/** `resistor`, `capacitor` …, or that of a type: `npn`, `opamp`. */
export function partKind(part: Part): string {
  return part.kind === 'typed' ? part.type.kind : part.kind;
}
