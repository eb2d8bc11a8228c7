import type { Part } from '@curvewright/board';
import { bipolarOfGain } from '@curvewright/devices';
import type { Branch, Capacitance, Conductance, PlacedDevice } from './elements.ts';
import type { Network } from './network.ts';

/**
 * One thing that may be written anew on a compiled board: a part's main value (Ω, F, H), a factor on a transistor's hFE, and of some capacitors
 * ESR, leakage (Ω) and loss.
 */
export interface LiveParameter {
  readonly ref: string;
  readonly parameter: 'value' | 'hFE' | 'esr' | 'leakage' | 'loss';
  /** Ω, F or H; 1 for hFE. */
  readonly nominal: number;
}

/** A network of its own whose values can be written anew; the unknowns and their order stay. */
export interface LiveNetwork {
  readonly network: Network;
  readonly parameters: readonly LiveParameter[];
  /** Writes one value for each parameter, in their order. */
  readonly write: (values: Float64Array) => void;
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

interface Writable extends LiveParameter {
  write(value: number): void;
}

/**
 * Copies a network compiled with losses in the dielectric form; every part with a value and every transistor becomes a parameter. So do ESR,
 * leakage and loss of the capacitors in `whole`, each of which has to have all three.
 */
export function liveNetwork(original: Network, whole: ReadonlySet<string> = new Set()): LiveNetwork {
  const conductances = original.conductances.map((each): Mutable<Conductance> => ({ ...each }));
  const capacitances = original.capacitances.map((each): Mutable<Capacitance> => ({ ...each }));
  const branches = original.branches.map((each): Mutable<Branch> => ({ ...each }));
  const devices = original.devices.map((each): Mutable<PlacedDevice> => ({ ...each }));
  const inputs = original.inputs.map((input) => branches[original.branches.indexOf(input)]!);
  const network: Network = { ...original, conductances, capacitances, branches, devices, inputs };

  const writables = original.circuit.parts.flatMap((part) => {
    const own = {
      conductances: conductances.filter(({ ref }) => ref === part.ref),
      capacitances: capacitances.filter(({ ref }) => ref === part.ref),
      branches: branches.filter(({ ref }) => ref === part.ref),
      device: devices.find(({ ref }) => ref === part.ref),
    };
    return [...writableOf(part, own, original.circuit.ambient), ...(whole.has(part.ref) ? lossesOf(part, own) : [])];
  });
  return {
    network,
    parameters: writables.map(({ ref, parameter, nominal }) => ({ ref, parameter, nominal })),
    write(values) {
      for (let k = 0; k < writables.length; k++) writables[k]!.write(values[k]!);
    },
  };
}

interface OwnElements {
  readonly conductances: readonly Mutable<Conductance>[];
  readonly capacitances: readonly Mutable<Capacitance>[];
  readonly branches: readonly Mutable<Branch>[];
  readonly device: Mutable<PlacedDevice> | undefined;
}

function writableOf(part: Part, own: OwnElements, kelvin: number): Writable[] {
  const { ref } = part;
  switch (part.kind) {
    case 'resistor':
      return own.conductances.length === 0 ? [] : [resistance(ref, part.ohms, own.conductances, [1])];
    case 'trimmer': {
      const shares = part.wiper === undefined ? [part.turn] : [part.turn, 1 - part.turn];
      const usable = own.conductances.length === shares.length;
      return usable ? [resistance(ref, part.ohms, own.conductances, shares)] : [];
    }
    case 'capacitor': {
      const [capacitance] = own.capacitances;
      if (!capacitance) return [];
      return [{ ref, parameter: 'value', nominal: part.farads, write: (farads) => (capacitance.farads = farads) }];
    }
    case 'inductor': {
      const [branch] = own.branches;
      if (!branch) return [];
      return [{ ref, parameter: 'value', nominal: part.henries, write: (henries) => (branch.henries = henries) }];
    }
    case 'typed': {
      const { type } = part;
      const { device } = own;
      if (!device || (type.kind !== 'npn' && type.kind !== 'pnp')) return [];
      const deviceOf = bipolarOfGain(type, kelvin);
      return [{ ref, parameter: 'hFE', nominal: 1, write: (factor) => (device.device = deviceOf(factor)) }];
    }
    case 'switch':
      return [];
  }
}

/** The compiler writes a capacitor's leakage first, then its ESR. */
function lossesOf(
  part: Part,
  { conductances: [across, inSeries], capacitances: [capacitance] }: OwnElements,
): Writable[] {
  if (part.kind !== 'capacitor' || !across || !inSeries || !capacitance)
    throw new RangeError(`${part.ref} is no capacitor with ESR, leakage and loss`);
  const { ref, esr = 0, leakage = Infinity, loss = 0 } = part;
  return [
    { ref, parameter: 'esr', nominal: esr, write: (ohms) => (inSeries.siemens = 1 / ohms) },
    { ref, parameter: 'leakage', nominal: leakage, write: (ohms) => (across.siemens = 1 / ohms) },
    { ref, parameter: 'loss', nominal: loss, write: (tangent) => (capacitance.loss = tangent) },
  ];
}

/** A resistance in one or two pieces, each a share of the whole. */
function resistance(
  ref: string,
  nominal: number,
  conductances: readonly Mutable<Conductance>[],
  shares: readonly number[],
): Writable {
  return {
    ref,
    parameter: 'value',
    nominal,
    write(ohms) {
      conductances.forEach((conductance, k) => (conductance.siemens = 1 / (ohms * shares[k]!)));
    },
  };
}
