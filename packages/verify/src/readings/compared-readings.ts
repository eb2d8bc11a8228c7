import { circuitOf, type Circuit, type Job, type Readings } from '@curvewright/board';
import { coldResistances, nodeVolts, type ColdResistance } from '@curvewright/network';
import { solveStage, varyStage, type Stage } from '../stage.ts';
import { withMeter } from '../suspect/predict.ts';
import { meterOhms, openOhms, type BenchMeter } from '../suspect/spot.ts';

/** What the meter showed, beside what it would show on the board as the job describes it. */
export interface ComparedReading {
  /** As written. */
  readonly name: string;
  readonly unit: 'V' | 'Ω';
  readonly read: number;
  /** Null where no bias is found, or a resistance is that of electrolytics; infinite where an ohmmeter takes it for open. */
  readonly predicted: number | null;
}

/** One round with the meter. */
export interface ComparedRound {
  readonly round: Readings;
  /** V first, then Ω, in the order of the file. */
  readonly readings: readonly ComparedReading[];
}

/** Every round of readings of a job, each predicted with its own meter between the leads; where nothing was pulled, found is as drawn. */
export function comparedRounds(job: Job): readonly ComparedRound[] {
  return job.readings.map((round) => {
    const circuit = (circuitOf(job, round.state) ?? circuitOf(job, 'drawn'))?.circuit ?? job.board.circuit;
    const solved = solveStage(circuit);
    const cold = coldResistances(
      circuit,
      round.ohms.map(({ nodes }) => nodes),
    );
    return {
      round,
      readings: [
        ...round.volts.map(({ name, nodes, value }): ComparedReading => ({
          ...{ name, unit: 'V', read: value },
          predicted: solved.ok ? shown(solved.value, nodes, round.meter) : null,
        })),
        ...round.ohms.map(({ name, value }, n): ComparedReading => {
          return { name, unit: 'Ω', read: value, predicted: predictedOhms(circuit, cold[n]!) };
        }),
      ],
    };
  });
}

/** Share of a cold resistance that may lie in the leakage of electrolytics: without voltage it strays by orders of magnitude. */
const mostThroughWet = 0.1;

function predictedOhms({ parts }: Circuit, { ohms, shares }: ColdResistance): number | null {
  const throughWet = parts.reduce(
    (sum, part) => sum + (part.kind === 'capacitor' && part.polarised ? (shares.get(part.ref) ?? 0) : 0),
    0,
  );
  if (throughWet > mostThroughWet) return null;
  return ohms < openOhms ? ohms : Infinity;
}

/** Without a meter's figures, as one that draws no current shows it. */
function shown(stage: Stage, nodes: readonly [string, string], meter: BenchMeter | undefined): number | null {
  const isThere = (node: string): boolean => node === 'gnd' || stage.network.nodes.has(node);
  // A node that a fault took out of the circuit hangs free, and the meter pulls it to the other probe's.
  if (!nodes.every(isThere)) return 0;
  const loaded =
    meter === undefined || meterOhms(meter) === Infinity
      ? stage
      : varyStage(stage, withMeter(stage.circuit, nodes, meter));
  if (loaded === null) return null;
  return nodeVolts(loaded.network, loaded.point, nodes[0]) - nodeVolts(loaded.network, loaded.point, nodes[1]);
}
