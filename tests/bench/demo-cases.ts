import type { Circuit } from '@curvewright/board';
import { compileNetwork, linearise, solveBias, type SmallSignal } from '@curvewright/network';
import type { Pattern } from '@curvewright/solver';
import { seedBoard } from '../seeds/read-seeds.ts';

/** One pattern with the values of several boards, as every solver of the bench gets them. */
export interface BenchCase {
  readonly name: string;
  readonly pattern: Pattern;
  readonly constant: Uint8Array;
  readonly boards: readonly BoardValues[];
  /** Row that holds 1 on the right side, and the output's column. */
  readonly entry: number;
  readonly output: number;
}

export interface BoardValues {
  readonly small: SmallSignal;
  readonly conductance: Float64Array;
  readonly capacitance: Float64Array;
  readonly loss: Float64Array;
}

export const benchFrequencies: Float64Array = Float64Array.from({ length: 200 }, (_, k) => 2 * 10 ** ((4.7 * k) / 199));

/** The demo board whole, and one channel of it with the shared supply. */
export function demoCases(): readonly BenchCase[] {
  const { circuit } = seedBoard('lk417');
  const [first] = circuit.channels;
  const one = {
    ...circuit,
    channels: [first!],
    parts: circuit.parts.filter(({ channel }) => channel === null || channel === first!.name),
  };
  return [caseOf('demo, both channels', circuit), caseOf('demo, one channel', one)];
}

const boardsPerCase = 8;

function caseOf(name: string, circuit: Circuit): BenchCase {
  const smalls = Array.from({ length: boardsPerCase }, (_, n) => smallSignalOf(varied(circuit, n)));
  const { size, channels } = smalls[0]!;
  const places = Array.from({ length: size * size }, (_, k) => k).filter((k) =>
    smalls.some(({ conductance, capacitance, loss }) => conductance[k] !== 0 || capacitance[k] !== 0 || loss[k] !== 0),
  );
  const pick = (matrix: Float64Array): Float64Array => Float64Array.from(places, (k) => matrix[k]!);
  const boards = smalls.map((small) => ({
    small,
    conductance: pick(small.conductance),
    capacitance: pick(small.capacitance),
    loss: pick(small.loss),
  }));
  return {
    name,
    pattern: {
      size,
      rows: Int32Array.from(places, (k) => Math.floor(k / size)),
      columns: Int32Array.from(places, (k) => k % size),
    },
    constant: Uint8Array.from(places, (_, k) =>
      boards.every(({ capacitance, loss }) => capacitance[k] === 0 && loss[k] === 0) ? 1 : 0,
    ),
    boards,
    entry: channels[0]!.drive,
    output: channels[0]!.output,
  };
}

/** Every resistor and capacitor up to 4 % off, a different pattern for each board. */
function varied(circuit: Circuit, board: number): Circuit {
  const factor = (k: number): number => 1 + 0.04 * Math.sin(1 + 7 * k + 13 * board);
  return {
    ...circuit,
    parts: circuit.parts.map((part, k) => {
      if (part.kind === 'resistor') return { ...part, ohms: part.ohms * factor(k) };
      if (part.kind === 'capacitor') return { ...part, farads: part.farads * factor(k) };
      return part;
    }),
  };
}

function smallSignalOf(circuit: Circuit): SmallSignal {
  const network = compileNetwork(circuit);
  const bias = solveBias(network);
  if (!bias.ok) throw new Error(bias.diagnostic.message);
  return linearise(network, bias.point);
}
