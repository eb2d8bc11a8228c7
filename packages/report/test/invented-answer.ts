import { mergeLimits } from '@curvewright/board';
import type { CheckAnswer, Finding, StateAnswer } from '@curvewright/verify';

/** Invented: no stage behaves like this. Deviation is `db(hz)` in every channel. */
export function inventedState(
  channels: readonly string[],
  db: (hz: number, channel: number) => number,
  volts: Readonly<Record<string, number>> = { b1: 0.621, c1: 3.79, out: 0, vcc: 26 },
): StateAnswer {
  const hz = Array.from({ length: 95 }, (_, n) => Math.min(100_000, 2 * 10 ** (n / 20)));
  const spots = [2, 5, 10, 20, 30, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 15_000, 20_000, 50_000, 100_000];
  return {
    assumed: [],
    changed: [],
    notes: [],
    ideal: [],
    residuals: { kirchhoffRatio: 0.1, response: 1e-15 },
    balanceDb: channels.length > 1 ? 0.12 : null,
    stability: {
      ...{ stable: true, q: 0.67, hz: 72e6, parts: [{ ref: 'Q103', hzPercentPerPercent: 1, qPercentPerPercent: 0.2 }] },
      margins: channels.map((channel, c) => ({ channel, lead: `Q10${c + 3}.base`, marginDeg: 65.4 })),
    },
    curves: { hz, channels: channels.map((_, c) => hz.map((f) => db(f, c))) },
    channels: channels.map((name, c) => ({
      name,
      gainDb: 35.1,
      worstDeviationDb: db(30, c),
      worstHz: 30,
      rolloffHz: 7.9,
      rolloffHighHz: null,
      subsonicPeaks: [
        { fromHz: 2, toHz: 10, db: db(10, c), hz: 10 },
        { fromHz: 10, toHz: 30, db: db(30, c), hz: 30 },
      ],
      points: spots.map((f) => ({ hz: f, deviationDb: db(f, c) })),
      nodes: Object.entries(volts).map(([node, value]) => ({ node, volts: value })),
      hissUv: 0.34,
      crosstalkDb: channels.length > 1 ? 94 : null,
      humDb: -72.5,
      overloadMv: 120,
      thdPercent: 0.012,
      settleS: 1.5,
      inputOhms: 47_200,
      devices: [
        { ref: `Q10${c + 1}`, icA: 75e-6, ibA: 0.2e-6, vceV: 2.36, vbeV: 0.54, powerW: 177e-6 },
        { ref: `D10${c + 1}`, volts: 0.62, amps: 1e-3, powerW: 0.62e-3 },
      ],
    })),
  };
}

export function inventedFinding(over: Partial<Finding>): Finding {
  return {
    level: 'good',
    what: 'bass',
    ref: 'C103',
    state: 'rebuilt',
    channel: 'left',
    counts: true,
    value: -1.12,
    margin: 0.38,
    unit: 'dB',
    where: 'at 20 Hz',
    cause: 'C103: 22 µF matters most',
    next: 'no change needed',
    ...over,
  };
}

/** A pair of channels, drawn, found and rebuilt, with one finding of every standing. */
export function inventedAnswer(): CheckAnswer {
  const channels = ['left', 'right'];
  const fall = (corner: number) => (hz: number) => -10 * Math.log10(1 + (corner / hz) ** 2);
  const look = { level: 'look', value: -1.92, margin: -0.42, next: 'fit 47 µF at C103' } as const;
  return {
    title: 'Larkfield LK 417, pops in the right channel',
    channels,
    limits: mergeLimits(),
    states: {
      drawn: inventedState(channels, fall(10)),
      found: {
        ...inventedState(channels, (hz, c) => fall(c === 0 ? 12 : 34)(hz)),
        assumed: ['R101', 'R102', 'R103', 'Q101', 'D103'],
        notes: ['C102: noisy; kept, not computed'],
      },
      rebuilt: {
        ...inventedState(channels, fall(14), { b1: 0.622, c1: 3.4, out: 0, vcc: 26, 'D103.1-2': 0.66 }),
        changed: [
          { position: 'C103', description: '22 µF aluminium instead of 22 µF aluminium' },
          { position: 'R140', description: '10 Ω, added' },
        ],
        ideal: [{ figure: 'no leakage', refs: ['C105', 'C106', 'C107', 'C110'] }],
      },
      measured: null,
    },
    unsolved: [],
    effects: [
      effect('C103', '22 µF aluminium instead of 22 µF aluminium', 0.08),
      effect('C104', '22 µF aluminium instead of 22 µF aluminium', 0.08),
      effect('D103', 'DS-A + DS-A instead of DB-A', 0.01),
      { ref: 'Q101', description: 'HN-B instead of HN-A', channel: 'left', moves: null },
    ],
    findings: [
      inventedFinding({ ...look, cause: 'C103: 22 µF costs 1.9 dB at 20 Hz' }),
      inventedFinding({
        ...look,
        channel: 'right',
        ref: 'C104',
        cause: 'C104: 22 µF costs 1.9 dB at 20 Hz',
        next: 'fit 47 µF at C104',
      }),
      inventedFinding({
        level: 'fail',
        what: 'node_volts',
        ref: 'Q102',
        channel: 'right',
        value: -31.4,
        margin: -21.4,
        unit: '%',
        where: 'node c1 against drawn',
        cause: 'Q102 (HN-B instead of HN-A) moves it by −30.1 %',
        next: 'measure the voltages at Q102',
      }),
      inventedFinding({ what: 'treble', value: 0.3, margin: 0.7, where: 'at 20 kHz' }),
      inventedFinding({ what: 'treble', channel: 'right', value: 0.25, margin: 0.75, where: 'at 20 kHz' }),
      inventedFinding({ what: 'balance', channel: null, value: 0.12, margin: 0.38, where: 'left over right at 30 Hz' }),
      inventedFinding({
        state: 'found',
        counts: false,
        level: 'fail',
        channel: 'right',
        ref: 'C104',
        value: -5.64,
        margin: -4.14,
      }),
      inventedFinding({ state: 'drawn', counts: false }),
    ],
    verdict: 'fail',
  };
}

function effect(ref: string, description: string, at20HzDb: number): CheckAnswer['effects'][number] {
  const moves = { at20HzDb, at10kHzDb: 0, gainDb: -0.004, balanceDb: 0.11, node: 'c1', nodeMv: -15 };
  return { ref, description, channel: 'left', moves };
}
