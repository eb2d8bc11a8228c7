import { boltzmann } from '@curvewright/devices';
import type { Resistor } from '@curvewright/board';
import type { OperatingPoint } from './bias.ts';
import { deviceWindows } from './device-windows.ts';
import { common, type PlacedAmplifier, type PlacedDevice, type Unknown } from './elements.ts';
import type { Network } from './network.ts';

/** What a generator of 1 A or 1 V puts into one row of the circuit equations: amount + jω·rate. */
export interface Injection {
  readonly row: Unknown;
  readonly amount: number;
  readonly rate: number;
}

/** One source of noise, not correlated with any other: density(f) = white + falling/f + rising·f, in A²/Hz or V²/Hz. */
export interface NoiseGenerator {
  /** The part that makes it; `input@left` for a channel's source, `load@left` for its load, a rail's node for its supply. */
  readonly ref: string;
  /** What makes it: 'thermal', 'shot of the base', 'dielectric loss', … */
  readonly name: string;
  readonly injections: readonly Injection[];
  readonly white: number;
  readonly falling: number;
  readonly rising: number;
}

/** Every noise generator of a network at its bias: Johnson and Nyquist's 4kT·G, and what the devices' own physics gives. */
export function noiseGenerators(network: Network, point: OperatingPoint): readonly NoiseGenerator[] {
  const thermal = 4 * boltzmann * network.circuit.ambient;
  const windows = deviceWindows(network, point.controls);
  return [
    ...network.conductances.map(({ ref, a, b, siemens }): NoiseGenerator => ({
      ...white(ref, 'thermal', thermal * siemens),
      injections: between(a, b),
    })),
    ...network.branches
      .filter(({ ohms }) => ohms > 0)
      .map(({ ref, current, ohms }): NoiseGenerator => ({
        ...white(ref, 'thermal', thermal * ohms),
        injections: [{ row: current, amount: 1, rate: 0 }],
      })),
    ...network.capacitances
      .filter(({ loss }) => loss > 0)
      .map(({ ref, a, b, farads, loss }): NoiseGenerator => ({
        ...white(ref, 'dielectric loss', 0),
        injections: between(a, b),
        rising: thermal * 2 * Math.PI * farads * loss,
      })),
    ...excessNoise(network, point),
    ...network.devices.flatMap((placed, i) => deviceNoise(placed, windows[i]!.at)),
    ...network.amplifiers.flatMap(amplifierNoise),
  ].filter((generator) => generator.white > 0 || generator.falling > 0 || generator.rising > 0);
}

function white(ref: string, name: string, density: number): Omit<NoiseGenerator, 'injections'> {
  return { ref, name, white: density, falling: 0, rising: 0 };
}

/** A current out of node a and into node b. */
function between(a: Unknown, b: Unknown): readonly Injection[] {
  return [
    { row: a, amount: -1, rate: 0 },
    { row: b, amount: 1, rate: 0 },
  ].filter(({ row }) => row !== common);
}

/**
 * A resistor's excess noise: its index is 20·lg of the µV rms in each decade of frequency for each V of direct voltage (IEC 60195; from
 * memory), so that the voltage's density is K/f with K·ln 10 = (10^(index/20)·1e-6·V)².
 */
function excessNoise(network: Network, point: OperatingPoint): readonly NoiseGenerator[] {
  const noisy = new Map<string, Resistor>();
  for (const part of network.circuit.parts) {
    if (part.kind === 'resistor' && part.noiseIndex !== undefined) noisy.set(part.ref, part);
  }
  const volts = (u: Unknown): number => (u === common ? 0 : point.x[u]!);
  return network.conductances.flatMap(({ ref, a, b, siemens }): readonly NoiseGenerator[] => {
    const index = noisy.get(ref)?.noiseIndex;
    if (index === undefined) return [];
    const perDecade = 10 ** (index / 20) * 1e-6 * (volts(a) - volts(b));
    const falling = (perDecade ** 2 / Math.LN10) * siemens ** 2;
    return [{ ...white(ref, 'excess noise', 0), injections: between(a, b), falling }];
  });
}

function deviceNoise({ ref, device, leads }: PlacedDevice, controls: Float64Array): readonly NoiseGenerator[] {
  return device.noise(controls).map(({ name, quantity, between: [first, second], density, corner }) => ({
    ...white(ref, name, density),
    falling: density * corner,
    injections:
      quantity === 'current'
        ? between(leads[first]!, leads[second]!)
        : inSeries({ ref, device, leads }, controls, first),
  }));
}

/** 1 V in series with a lead moves every control that lead belongs to: the device's own slopes make currents of it at all its leads. */
function inSeries({ device, leads }: PlacedDevice, controls: Float64Array, lead: number): readonly Injection[] {
  const width = device.controls.length;
  const currents = new Float64Array(leads.length);
  const [slopes, farads] = [new Float64Array(leads.length * width), new Float64Array(leads.length * width)];
  device.evaluate(controls, currents, slopes);
  device.store(controls, currents, farads);
  const moved = device.controls.map(([plus, minus]) => (plus === lead ? 1 : 0) - (minus === lead ? 1 : 0));
  const sum = (of: Float64Array, at: number): number =>
    moved.reduce<number>((total, share, k) => total + share * of[at * width + k]!, 0);
  return leads
    .map((row, at) => ({ row, amount: -sum(slopes, at), rate: -sum(farads, at) }))
    .filter(({ row }) => row !== common);
}

/** The voltage enters the drive's row; the input currents flow from common. */
function amplifierNoise({ ref, model, plus, minus, drive }: PlacedAmplifier): readonly NoiseGenerator[] {
  const { voltageNoise, currentNoise } = model;
  const voltage: NoiseGenerator = {
    ...white(ref, 'input voltage', voltageNoise.density),
    falling: voltageNoise.density * voltageNoise.corner,
    injections: [{ row: drive, amount: -1, rate: 0 }],
  };
  return [
    voltage,
    ...(
      [
        ['plus', plus],
        ['minus', minus],
      ] as const
    ).map(([lead, node]) => ({
      ...white(ref, `current of the ${lead} input`, currentNoise.density),
      falling: currentNoise.density * currentNoise.corner,
      injections: between(common, node),
    })),
  ];
}
