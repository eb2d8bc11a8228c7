import { gainReader } from '../gain-reader.ts';
import type { StagedJob, StagedState } from '../staged-job.ts';
import { healthyReach, type HealthyReach } from './healthy-reach.ts';
import { balanceOfMeasured, furthestMeasured } from './measured-figures.ts';
import type { MeasuredChannel, Measurement } from './measurement.ts';

/** Whether a reading lies where healthy boards of the prediction do. */
export type Agreement = 'inside' | 'outside' | 'not measured';

/** The measured state beside its prediction. */
export interface MeasuredAnswer extends Pick<Measurement, 'state' | 'at' | 'ofChain' | 'problems'> {
  /** Largest level difference of the channels from 30 Hz to 15 kHz; null where the levels are not known. */
  readonly balanceDb: number | null;
  /** Healthy boards that the bands are made of; 0 where the prediction could not be solved. */
  readonly boards: number;
  readonly channels: readonly (Pick<MeasuredChannel, 'name' | 'gainDb' | 'hissUv'> & {
    readonly gain: Banded & { readonly agreement: Agreement };
    readonly worstDeviationDb: number | null;
    readonly worstHz: number | null;
    readonly points: readonly MeasuredPoint[];
  })[];
}

/** Null where the state could not be solved. */
interface Banded {
  readonly predictedDb: number | null;
  readonly lowDb: number | null;
  readonly highDb: number | null;
}

export interface MeasuredPoint extends Banded {
  readonly hz: number;
  readonly deviationDb: number | null;
  readonly agreement: Agreement;
}

/** dB by which a stated level strays: meters and ears of a converter, common practice, no source. */
const gainSigma = 0.1;

/** Lays a measurement beside what the job's state was predicted to do, within the tolerances of its parts. */
export function measuredAnswer(staged: StagedJob, measurement: Measurement): MeasuredAnswer {
  const { state, at, ofChain, problems, channels } = measurement;
  // Where nothing was pulled, the board as found is the board as drawn.
  const predicted =
    staged.states.find((each) => each.state === state) ?? (staged.unsolved.length > 0 ? undefined : staged.states[0]);
  const reach = predicted === undefined ? null : healthyReach(staged, predicted);
  return {
    state,
    at,
    ofChain,
    problems,
    balanceDb: balanceOfMeasured(channels),
    boards: reach?.boards ?? 0,
    channels: channels.map(({ name, gainDb, hissUv, points }) => {
      const banded = bandsOf(predicted, reach, name);
      const gain = banded.gain();
      return {
        name,
        gainDb,
        hissUv,
        gain: { ...gain, agreement: agreementOf(gainDb, gain, gainSigma) },
        ...furthestMeasured(points),
        points: points.map(({ hz, deviationDb, sigmaDb }) => {
          const band = banded.deviation(hz);
          return { hz, deviationDb, ...band, agreement: agreementOf(deviationDb, band, sigmaDb) };
        }),
      };
    }),
  };
}

/** The reading's own error counts with twice its standard deviation. */
function agreementOf(db: number | null, { lowDb, highDb }: Banded, sigmaDb: number): Agreement {
  if (db === null || lowDb === null || highDb === null) return 'not measured';
  return db >= lowDb - 2 * sigmaDb && db <= highDb + 2 * sigmaDb ? 'inside' : 'outside';
}

const unknown: Banded = { predictedDb: null, lowDb: null, highDb: null };

function bandsOf(
  predicted: StagedState | undefined,
  reach: HealthyReach | null,
  name: string,
): { gain(): Banded; deviation(hz: number): Banded } {
  const channel = predicted?.probe.stage.circuit.channels.findIndex((each) => each.name === name) ?? -1;
  if (predicted === undefined || reach === null || channel < 0)
    return { gain: () => unknown, deviation: () => unknown };
  const reader = gainReader(predicted.probe.stage);
  const around = (predictedDb: number, [below, above]: readonly [number, number]): Banded => ({
    predictedDb,
    lowDb: predictedDb + below,
    highDb: predictedDb + above,
  });
  return {
    gain: () => around(reader.gainDb(channel, 1000), reach.gain(channel)),
    deviation: (hz) => around(reader.deviationDb(channel, hz), reach.deviation(channel, hz)),
  };
}
