import { adapterDb, adapterErrorDb, type Adapter, type Section, type Surroundings } from './adapter.ts';
import { worstAdapterError } from './design-adapter.ts';

/** What an adapter does between its surroundings, and what moves it. Errors are in dB re 1 kHz, the worst from 20 Hz to 20 kHz, signed. */
export interface AdapterAnswer extends Surroundings {
  readonly adapter: Adapter;
  /** dB at 1 kHz from the generator's open voltage. */
  readonly gainDb: number;
  readonly worst: { readonly hz: number; readonly db: number };
  readonly points: readonly { readonly hz: number; readonly gainDb: number; readonly errorDb: number }[];
  /** Ω that the generator sees at 20 Hz, 1 kHz and 20 kHz are not below this. */
  readonly leastInputOhms: number;
  /** Ω that the phono input sees instead of a cartridge: at most what stands across it. */
  readonly outputOhms: number;
  /** The same adapter behind other generators. */
  readonly generators: readonly { readonly ohms: number; readonly levelDb: number; readonly worstDb: number }[];
  /** What one percent more of a section or resistor moves: level at 1 kHz, and the curve at its worst. */
  readonly parts: readonly { readonly what: AdapterPart; readonly levelDb: number; readonly curveDb: number }[];
}

export type AdapterPart =
  'series' | 'bass resistors' | 'bass capacitors' | 'treble resistors' | 'treble capacitors' | 'across';

const frequencies: readonly number[] = [20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 15_000, 20_000, 40_000];

/** Ω of generators that are met: a headphone output, good line outputs, old ones (common practice, no source). */
const usualGenerators: readonly number[] = [0, 50, 100, 300, 600, 1000];

export function adapterAnswer(adapter: Adapter, surroundings: Surroundings): AdapterAnswer {
  const gainDb = adapterDb(adapter, surroundings, 1000);
  const others = [...new Set([...usualGenerators, surroundings.generator])].sort((a, b) => a - b);
  return {
    ...surroundings,
    adapter,
    gainDb,
    worst: worstAdapterError(adapter, surroundings),
    points: frequencies.map((hz) => ({
      hz,
      gainDb: adapterDb(adapter, surroundings, hz),
      errorDb: adapterErrorDb(adapter, surroundings, hz),
    })),
    leastInputOhms: inputOhms(adapter, surroundings),
    outputOhms: adapter.across,
    generators: others.map((ohms) => {
      const there = { ...surroundings, generator: ohms };
      return { ohms, levelDb: adapterDb(adapter, there, 1000), worstDb: worstAdapterError(adapter, there).db };
    }),
    parts: onePercentMore(adapter).map(([what, moved]) => ({
      what,
      levelDb: adapterDb(moved, surroundings, 1000) - gainDb,
      curveDb: greatest(
        frequencies.filter((hz) => hz <= 20_000),
        (hz) => adapterErrorDb(moved, surroundings, hz) - adapterErrorDb(adapter, surroundings, hz),
      ),
    })),
  };
}

/** The impedance is least where the series sections are: at the highest frequency. A generator of 0 Ω gives the current of 1 V. */
function inputOhms(adapter: Adapter, { load }: Surroundings): number {
  const across = 1 / (1 / adapter.across + 1 / load);
  return across / 10 ** (adapterDb(adapter, { generator: 0, load }, 20_000) / 20);
}

function onePercentMore(adapter: Adapter): readonly (readonly [AdapterPart, Adapter])[] {
  const more = (value: number): number => value * 1.01;
  const across = ['across', { ...adapter, across: more(adapter.across) }] as const;
  if (adapter.shaping === 'flat') return [['series', { ...adapter, series: more(adapter.series) }], across];
  const section = (name: 'bass' | 'treble', of: keyof Section): readonly [AdapterPart, Adapter] => [
    `${name} ${of}`,
    { ...adapter, [name]: { ...adapter[name], [of]: adapter[name][of].map(more) } },
  ];
  return [
    section('bass', 'resistors'),
    section('bass', 'capacitors'),
    section('treble', 'resistors'),
    section('treble', 'capacitors'),
    across,
  ];
}

function greatest(list: readonly number[], read: (hz: number) => number): number {
  return list.map(read).reduce((most, each) => (Math.abs(each) > Math.abs(most) ? each : most), 0);
}
