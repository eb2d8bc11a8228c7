import type { Job, Readings } from '@curvewright/board';
import { silence, type Catalogue } from './catalogue.ts';
import type { Reading, SharedError } from './covariance.ts';
import type { Heard } from './heard.ts';
import { openOhms, usualMeter, type BenchMeter, type Spot } from './spot.ts';

/** One point of a measured response; the band is that of the points. */
export interface ResponsePoint {
  readonly hz: number;
  readonly db: number;
  /** dB, standard deviation of the noise. */
  readonly sigmaDb: number;
}

/** Responses of one measuring session; levels count as far as `levelDb` says. */
export interface MeasuredResponse {
  /** By channel's name; `balance`: the first channel minus the second. */
  readonly channels: Readonly<Record<string, readonly ResponsePoint[]>>;
  readonly balance?: readonly ResponsePoint[];
  /** dB, standard deviation of the level that all channels share: large where a response is told re 1 kHz. */
  readonly levelDb: number;
}

/** What was read and heard of a board in one state. */
export interface Evidence {
  readonly spots: readonly Spot[];
  /** As told on a page, in the order of the readings. */
  readonly told: readonly ToldReading[];
  readonly heard: readonly Heard[];
  /** Pops in a channel that a pulled part accounts for already: its designator and channel. */
  readonly accounted: readonly string[];
  readonly meter: BenchMeter;
}

export interface ToldReading {
  readonly name: string;
  readonly unit: 'V' | 'Ω' | 'dB';
  /** In the unit. */
  readonly measured: number;
  readonly terms: readonly { readonly spot: Spot; readonly factor: number }[];
  /** dB. */
  readonly sigma?: number;
  /** Readings of one name share an error of `sigma`. */
  readonly level?: readonly { readonly name: string; readonly sigma: number }[];
}

/** A meter that draws no current and makes no error. */
const idealMeter: BenchMeter = { resistance: Infinity, accuracy: 0 };

/** dB between the levels of two channels that one recording cannot exclude: common practice, no source. */
const channelLevel = 0.1;

/** The rounds of readings that were taken in one state, and a response where one was measured. */
export function evidenceOf(
  job: Job,
  state: Readings['state'],
  channels: readonly string[],
  response: MeasuredResponse | null,
): Evidence {
  const rounds = job.readings.filter((round) => round.state === state);
  const last = rounds.findLast(({ meter }) => meter !== undefined)?.meter;
  const told = [...rounds.flatMap((round) => roundReadings(round, channels)), ...responseReadings(response, channels)];
  const culprits = state === 'found' ? poppers(job) : [];
  const heard = rounds.flatMap((round) => [
    ...round.heard,
    // A pop a minute is more than dust and records make with nothing playing.
    ...Object.entries(round.pops ?? {}).flatMap(([channel, rate]) =>
      rate >= leastPops ? [{ what: 'popping' as const, channel }] : [],
    ),
  ]);
  const isAccounted = (word: (typeof heard)[number]): boolean =>
    word.what === 'popping' &&
    culprits.some(({ channel }) => word.channel === undefined || channel === null || channel === word.channel);
  return {
    spots: told.flatMap(({ terms }) => terms.map(({ spot }) => spot)),
    told,
    heard: heard
      .filter((word) => !isAccounted(word))
      .map(({ what, channel }) => ({ what, channel: channel === undefined ? null : channels.indexOf(channel) })),
    accounted: heard.some(isAccounted) ? culprits.map(({ ref }) => ref) : [],
    meter: last ?? usualMeter,
  };
}

/** A minute; common practice, no source. */
const leastPops = 1;

/** Pulled parts that pop, by what the job says of them. */
function poppers(job: Job): readonly { readonly ref: string; readonly channel: string | null }[] {
  return job.positions.flatMap(({ drawn, entry }) => {
    const faults = entry?.pulled?.faults ?? [];
    const pops = faults.some((fault) => fault === 'intermittent' || fault === 'leaky' || fault === 'noisy');
    return pops ? [{ ref: drawn.ref, channel: drawn.channel }] : [];
  });
}

function roundReadings(round: Readings, channels: readonly string[]): readonly ToldReading[] {
  const { volts, ohms, hiss = {}, hum = {}, meter = idealMeter } = round;
  const level = (
    kind: 'hiss' | 'hum',
    of: Readonly<Record<string, number>>,
    scale: (value: number) => number,
  ): readonly ToldReading[] =>
    Object.entries(of).map(([name, value]): ToldReading => ({
      name: `${kind}, ${name}`,
      unit: 'dB',
      measured: scale(value),
      terms: [{ spot: { kind, channel: channels.indexOf(name) }, factor: 1 }],
      sigma: 1,
    }));
  return [
    ...volts.map(({ name, nodes, value }): ToldReading => ({
      name,
      unit: 'V',
      measured: value,
      terms: [{ spot: { kind: 'volts', nodes, meter }, factor: 1 }],
    })),
    ...ohms.map(({ name, nodes, value }): ToldReading => ({
      name,
      unit: 'Ω',
      measured: value,
      terms: [{ spot: { kind: 'ohms', nodes, meter }, factor: 1 }],
    })),
    ...level('hiss', hiss, (volts) => 20 * Math.log10(Math.max(volts, 1e-9))),
    ...level('hum', hum, (db) => db),
  ];
}

function responseReadings(response: MeasuredResponse | null, channels: readonly string[]): readonly ToldReading[] {
  if (response === null) return [];
  const gain = (channel: number, hz: number, factor: number): ToldReading['terms'][number] => ({
    spot: { kind: 'gain', channel, hz },
    factor,
  });
  const absolute = Object.entries(response.channels).flatMap(([name, points]) =>
    points.map(({ hz, db, sigmaDb }): ToldReading => ({
      name: `${name} at ${hz} Hz`,
      unit: 'dB',
      measured: db,
      terms: [gain(channels.indexOf(name), hz, 1)],
      sigma: sigmaDb,
      level: [
        { name: 'response', sigma: response.levelDb },
        { name: `response ${name}`, sigma: channelLevel },
      ],
    })),
  );
  const balance = (response.balance ?? []).map(({ hz, db, sigmaDb }): ToldReading => ({
    name: `${channels[0] ?? ''} minus ${channels[1] ?? ''} at ${hz} Hz`,
    unit: 'dB',
    measured: db,
    terms: [gain(0, hz, 1), gain(1, hz, -1)],
    sigma: sigmaDb,
    level: [{ name: 'balance', sigma: channelLevel }],
  }));
  return [...absolute, ...balance];
}

/** The readings by their places in a catalogue's spots, with what they are (ln Ω for cold ones). */
export function readingsIn(
  catalogue: Catalogue,
  told: readonly ToldReading[],
): {
  readonly readings: readonly Reading[];
  readonly shared: readonly SharedError[];
  readonly values: Float64Array;
} {
  const places = new Map(catalogue.spots.map((spot, s) => [JSON.stringify(spot), s]));
  const shared = new Map<string, { readings: number[]; sigma: number }>();
  const values = new Float64Array(told.length);
  const readings = told.map(({ terms, unit, measured, sigma, level = [] }, n): Reading => {
    for (const { name, sigma: error } of level) {
      const among = shared.get(name) ?? { readings: [], sigma: error };
      shared.set(name, among);
      among.readings.push(n);
    }
    const placed = terms.map(({ spot, factor }) => ({ spot: places.get(JSON.stringify(spot))!, factor }));
    const [{ spot, factor }, ...others] = placed as [(typeof placed)[number], ...typeof placed];
    const floor = catalogue.setting.gainFloor?.[spot] ?? -Infinity;
    values[n] =
      unit === 'Ω'
        ? Math.log(Math.min(Math.max(measured, 1e-3), openOhms))
        : others.length === 0 && factor === 1
          ? Math.max(measured, floor)
          : Math.min(Math.max(measured, -silence), silence);
    return { terms: placed, ...(sigma !== undefined && { sigma }) };
  });
  return { readings, shared: [...shared.values()], values };
}
