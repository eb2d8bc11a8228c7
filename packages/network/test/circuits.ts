import type {
  Capacitor,
  Channel,
  Circuit,
  Inductor,
  Part,
  PartType,
  Place,
  Rail,
  Resistor,
  TypedPart,
} from '@curvewright/board';

const place: Place = { file: 'test', line: 1, column: 1 };
const common = (ref: string): { ref: string; position: string; channel: null; place: Place } => ({
  ref,
  position: ref,
  channel: null,
  place,
});

export function resistor(ref: string, ohms: number, a: string, b: string): Resistor {
  return { ...common(ref), kind: 'resistor', ohms, between: [a, b] };
}

export function capacitor(
  ref: string,
  farads: number,
  plus: string,
  minus: string,
  more: Partial<Capacitor> = {},
): Capacitor {
  return { ...common(ref), kind: 'capacitor', farads, plus, minus, polarised: false, ...more };
}

export function inductor(ref: string, henries: number, ohms: number, a: string, b: string): Inductor {
  return { ...common(ref), kind: 'inductor', henries, ohms, between: [a, b] };
}

export function typed(ref: string, type: PartType, leads: Record<string, string>, rails?: [string, string]): TypedPart {
  return { ...common(ref), kind: 'typed', typeName: ref, type, leads, ...(rails ? { rails } : {}) };
}

export function rail(node: string, volts: number, resistance = 0): Rail {
  return { node, volts, resistance, place };
}

/** A one-channel circuit from node `in` to node `out` at 25 °C. */
export function circuit(
  rails: Rail[],
  parts: Part[],
  more: Partial<Circuit & { load: Channel['load'] }> = {},
): Circuit {
  const { load = {}, ...rest } = more;
  const channels = [{ name: 'mono', input: 'in', output: 'out', load }];
  return { title: 'test', channels, rails, common: [], parts, ambient: 298.15, ...rest };
}
