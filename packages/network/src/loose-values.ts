import type { Circuit, Part, PartType, TypedPart } from '@curvewright/board';
import { deviceOf, type Device, type DeviceType } from '@curvewright/devices';
import { loneParts } from './circuit-parameters.ts';
import { typeParameters } from './type-parameters.ts';
import type { Network } from './network.ts';
import type { Branch, Capacitance, Conductance } from './elements.ts';

/** A value or figure that differs from piece to piece, by designator (a rail's node for its `volts`) and the file's key. */
export interface LooseValue {
  readonly ref: string;
  readonly parameter: string;
}

/** What of a network follows one loose value. */
export type LooseElement =
  | { readonly kind: 'resistance'; readonly conductances: readonly Conductance[] }
  | { readonly kind: 'capacitance'; readonly capacitances: readonly Capacitance[] }
  | { readonly kind: 'supply'; readonly branch: Branch }
  /** The device with the figure a little higher and a little lower: by `looseShare` of it. */
  | { readonly kind: 'device'; readonly index: number; readonly higher: Device; readonly lower: Device }
  | { readonly kind: 'none' };

/** Share of a figure by which a device is varied: its slopes are wanted to a percent, and come out to a millionth. */
export const looseShare = 1e-4;

/** `none` where the network has no such value: a part that is gone, or one whose figure moves nothing here. */
export function looseElements(network: Network, values: readonly LooseValue[]): readonly LooseElement[] {
  const parts = new Map(network.circuit.parts.map((part) => [part.ref, part]));
  const kelvin = network.circuit.ambient;
  // Parts of one type share the devices that its figures are varied in.
  const made = new Map<PartType, Map<string, VariedDevice | null>>();
  const varied: Varied = (type, parameter) => {
    const ofType = made.get(type) ?? new Map<string, VariedDevice | null>();
    made.set(type, ofType);
    const known = ofType.get(parameter);
    if (known !== undefined) return known;
    const figure = typeParameters(type).find((each) => each.parameter === parameter);
    const at = (factor: number): Device => deviceOf(asDevice(figure!.times(factor)), kelvin);
    const devices =
      figure === undefined || type.kind === 'opamp' ? null : { higher: at(1 + looseShare), lower: at(1 - looseShare) };
    ofType.set(parameter, devices);
    return devices;
  };
  return values.map(({ ref, parameter }) => looseElement(network, parts.get(ref), ref, parameter, varied));
}

interface VariedDevice {
  readonly higher: Device;
  readonly lower: Device;
}

/** Null where the type has no such figure. */
type Varied = (type: PartType, parameter: string) => VariedDevice | null;

function looseElement(
  network: Network,
  part: Part | undefined,
  ref: string,
  parameter: string,
  varied: Varied,
): LooseElement {
  if (part === undefined) {
    const branch = network.branches.find((each) => each.rail && each.ref === ref);
    return branch && parameter === 'volts' ? { kind: 'supply', branch } : { kind: 'none' };
  }
  switch (part.kind) {
    case 'resistor':
    case 'trimmer':
      return parameter === 'value' ? ofRef(network, ref) : { kind: 'none' };
    case 'capacitor': {
      if (parameter === 'value')
        return { kind: 'capacitance', capacitances: network.capacitances.filter((each) => each.ref === ref) };
      // The compiler writes a capacitor's leakage before its ESR.
      const across = part.leakage === undefined ? [] : network.conductances.filter((each) => each.ref === ref);
      return parameter === 'leakage' && across.length > 0
        ? { kind: 'resistance', conductances: across.slice(0, 1) }
        : { kind: 'none' };
    }
    case 'typed':
      return deviceElement(network, part, varied(part.type, parameter));
    case 'inductor':
    case 'switch':
      return { kind: 'none' };
  }
}

function ofRef(network: Network, ref: string): LooseElement {
  return { kind: 'resistance', conductances: network.conductances.filter((each) => each.ref === ref) };
}

function deviceElement(network: Network, { ref }: TypedPart, devices: VariedDevice | null): LooseElement {
  const index = network.devices.findIndex((each) => each.ref === ref);
  return index < 0 || devices === null ? { kind: 'none' } : { kind: 'device', index, ...devices };
}

function asDevice(type: PartType): DeviceType {
  if (type.kind === 'opamp') throw new TypeError('an op-amp is no device');
  return type;
}

/** The circuit with each loose value times its factor. */
export function circuitWithFactors(
  circuit: Circuit,
  values: readonly LooseValue[],
  factors: ArrayLike<number>,
): Circuit {
  const parameters = new Map(
    loneParts(circuit).flatMap(({ parameters: own }) => own.map((each) => [keyOf(each), each] as const)),
  );
  // `times` of a part starts from the part as it was; two of its figures are moved one after the other.
  return values.reduce((whole, value, v) => {
    const before = parameters.get(keyOf(value));
    if (before === undefined) return whole;
    const part = whole.parts.find((each) => each.ref === value.ref);
    const now =
      part === undefined || part === circuit.parts.find((each) => each.ref === value.ref)
        ? before
        : loneParts({ ...whole, parts: [part], rails: [], channels: [] })
            .flatMap(({ parameters: own }) => own)
            .find((each) => keyOf(each) === keyOf(value));
    return now === undefined ? whole : now.times(whole, factors[v]!);
  }, circuit);
}

function keyOf({ ref, parameter }: LooseValue): string {
  return `${ref} ${parameter}`;
}
