import { powerOf } from './gated-reader.ts';
import { sweepsOf, type ChannelName, type LaidChannel, type Reading, type TakeOf } from './channel-response.ts';
import { isThere } from './stretches.ts';
import { sweepResponse } from './sweep-response.ts';
import type { Pair } from './sweep-take.ts';

/** `from` is played alone: 20 lg of the outputs |from| / |to|. */
export interface CrosstalkPoint {
  readonly hz: number;
  readonly from: ChannelName;
  readonly to: ChannelName;
  /** Null where what comes across does not stand out of the noise; it is then more than `atLeastDb`. */
  readonly db: number | null;
  readonly atLeastDb: number;
}

/** dB by which what comes across stands out of the noise where it is measured. */
const standsOutDb = 10;

/** What one channel hears of the other, where a sweep feeds that one alone. */
export function crosstalkPoints(
  heard: LaidChannel,
  driven: { readonly name: ChannelName; readonly readings: readonly Reading[] },
  takeOf: TakeOf,
  expected: (hz: number) => Pair,
): readonly CrosstalkPoint[] {
  const segment = sweepsOf(heard.laid.plan).find(({ feeds }) => feeds === driven.name);
  if (segment === undefined || !isThere(heard.laid, segment)) return [];
  const take = takeOf(heard, segment);
  const across = new Map(
    sweepResponse(
      take,
      expected,
      driven.readings.map(({ hz }) => hz),
    ).map((point) => [point.hz, point]),
  );
  return driven.readings.flatMap(({ hz, ratio }): CrosstalkPoint[] => {
    const point = across.get(hz);
    if (point?.snrDb === undefined || point.snrDb === null) return [];
    const db = 10 * Math.log10(powerOf(ratio) / powerOf(point.ratio));
    const measured = point.snrDb >= standsOutDb;
    return [
      {
        hz,
        from: driven.name,
        to: heard.name,
        db: measured ? db : null,
        atLeastDb: measured ? db : db + Math.min(0, point.snrDb),
      },
    ];
  });
}
