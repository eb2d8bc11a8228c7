import type { Outcome } from '@curvewright/board';
import { compileNetwork, nodeVolts, solveBias, switchOn, type SwitchOn } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import { bareName } from './node-volts.ts';
import type { Stage } from './stage.ts';
import { settledAfter, thinned } from './trace.ts';
import { watchedPairs } from './watched-pairs.ts';

/** What happens from the moment the supplies are switched on until the stage is at rest. */
export interface SettleAnswer {
  /** s in which the rails rise. */
  readonly rampS: number;
  /** V from its settled value within which an output counts as settled. */
  readonly withinV: number;
  readonly channels: readonly ChannelSettling[];
  readonly parts: readonly PartSwing[];
  readonly integrator: string;
  readonly steps: { readonly taken: number; readonly rejected: number; readonly newton: number };
  /** s of circuit time that were computed. */
  readonly endS: number;
  /** Largest distance of a node from its bias at the end, V. */
  readonly fromBiasV: number;
  /** Why the end is not the bias; null where it is. */
  readonly trouble: string | null;
  readonly notes: readonly string[];
}

export interface ChannelSettling {
  readonly name: string;
  /** s from switch-on until the output stays within `withinV` of its bias; null where it does not. */
  readonly settleS: number | null;
  /** The furthest the output is from 0 V on the way, V, always positive. */
  readonly peakV: number;
  readonly highestV: number;
  readonly lowestV: number;
  /** At the bias. */
  readonly settledV: number;
  /** The output, at most 400 points. */
  readonly points: readonly { readonly s: number; readonly volts: number }[];
}

/** V of one pair of leads on the way and at the bias. */
export interface PartSwing {
  readonly ref: string;
  /** Lead minus lead. */
  readonly between: string;
  readonly highestV: number;
  readonly lowestV: number;
  readonly settledV: number;
}

export interface SettleOptions {
  /** V. */
  readonly within: number;
  /** s; silent: 0.3. */
  readonly ramp?: number | undefined;
}

/** s in which supplies come up where nothing else is asked for; common practice, no source. */
const usualRamp = 0.3;

/** s of circuit time after which the run is given up. */
const patience = 3600;

const mostPoints = 400;

const integrator = 'trapezoidal rule and second backward difference (TR-BDF2), strides by the error of every charge';

/** Switches the stage on in full, not linearised. A capacitor's loss factor is here a series resistance, right at 1 kHz. */
export function settleAnswer(stage: Stage, { within, ramp = usualRamp }: SettleOptions): Outcome<SettleAnswer> {
  const { circuit, source } = stage;
  const network = compileNetwork(circuit, source, { loss: 'series' });
  const bias = solveBias(network);
  if (!bias.ok) return { ok: false, diagnostics: [bias.diagnostic] };
  const settled = (node: string): number => nodeVolts(network, bias.point, node);
  const pairs = watchedPairs(circuit.parts);
  const outputs = circuit.channels.map(({ output }) => [output, 'gnd'] as const);
  const watched = [...outputs, ...pairs.map(({ nodes }) => nodes)];
  const on = switchOn(network, bias.point, { ramp, until: Math.max(patience, 2 * ramp), watched });
  return {
    ok: true,
    value: {
      rampS: ramp,
      withinV: within,
      channels: circuit.channels.map(({ name, output }, n) => {
        const { highest, lowest } = on.swings[n]!;
        return {
          name,
          settleS: settledAfter(on.outputs[n]!, settled(output), within),
          peakV: Math.max(highest, -lowest),
          highestV: highest,
          lowestV: lowest,
          settledV: settled(output),
          points: thinned(on.outputs[n]!, mostPoints),
        };
      }),
      parts: pairs.map(({ ref, between, nodes: [first, second] }, n) => {
        const { highest, lowest } = on.swings[outputs.length + n]!;
        return { ref, between, highestV: highest, lowestV: lowest, settledV: settled(first) - settled(second) };
      }),
      integrator,
      steps: { taken: on.run.taken, rejected: on.run.rejected, newton: on.run.newtonSteps },
      endS: on.run.seconds,
      fromBiasV: on.fromBias,
      trouble: troubleOf(on),
      notes: notesOf(stage),
    },
  };
}

function troubleOf({ run, fromBias, furthestNode }: SwitchOn): string | null {
  const after = `${printQuantity(run.seconds, 's', 3)} after switch-on`;
  const distance = `node ${bareName(furthestNode)} is still ${printQuantity(fromBias, 'V', 2)} from its bias`;
  switch (run.end.kind) {
    case 'visitor':
      return null;
    case 'until':
      return `${after}, ${distance}: it settles very slowly, or elsewhere`;
    case 'budget':
      return `the computation was given up ${after}, where ${distance}: the stage keeps swinging; see its poles`;
    case 'stuck':
      return `the computation came to a stop ${after} at ${run.end.where}: no voltage there satisfies the circuit`;
  }
}

function notesOf({ circuit }: Stage): readonly string[] {
  const has = (test: (part: Stage['circuit']['parts'][number]) => boolean): boolean => circuit.parts.some(test);
  return [
    ...(has((part) => part.kind === 'capacitor' && (part.loss ?? 0) > 0)
      ? ['Loss factors count as a series resistance that is right at 1 kHz.']
      : []),
    ...(has((part) => part.kind === 'typed' && part.type.kind === 'triode')
      ? ['Valves are taken as hot from the start.']
      : []),
  ];
}
