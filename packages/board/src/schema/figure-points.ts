import type { z } from 'zod';
import type { FigureAt } from '../part-type.ts';
import {
  addFault,
  figureAt,
  isList,
  isMap,
  isText,
  list,
  oneOf,
  plainNumber,
  quantity,
  strict,
  type Field,
  type Told,
} from './fields.ts';

/** hFE as a file writes it, points ascending in current; one point at 0 A holds for every current. */
export interface CurrentGain {
  readonly points: readonly FigureAt[];
  readonly low?: number;
  readonly high?: number;
}

const gain = (description: string, example: string): Field<number> =>
  plainNumber({ description, examples: [example], positive: true });

const collectorCurrent = quantity('A', { description: 'Collector current', examples: ['0.1 mA'], positive: true });

const bandOfGain: Field<CurrentGain> = strict({
  low: gain('Lowest of a healthy piece', '200').exactOptional(),
  typical: gain('Typical', '320'),
  high: gain('Highest of a healthy piece', '500').exactOptional(),
  at: collectorCurrent.exactOptional(),
})
  .superRefine(({ low, typical, high }, context) => {
    if (low !== undefined && low > typical)
      addFault(context, { code: 'out-of-range', message: `is above typical; write at most ${typical}` }, ['low']);
    if (high !== undefined && high < typical)
      addFault(context, { code: 'out-of-range', message: `is below typical; write at least ${typical}` }, ['high']);
  })
  .transform(({ typical, at, ...band }): CurrentGain => ({ points: [{ value: typical, at: at ?? 0 }], ...band }));

const pointOfGain: Field<FigureAt> = oneOf<FigureAt>(
  [
    {
      fits: (input) => isMap(input) && Object.hasOwn(input, 'typical'),
      schema: strict({ typical: gain('Typical hFE', '320'), at: collectorCurrent }).transform(
        ({ typical, at }): FigureAt => ({ value: typical, at }),
      ),
    },
    { fits: isMap, schema: strict({ value: gain('Typical hFE', '320'), at: collectorCurrent }) },
  ],
  { description: 'hFE at a collector current', examples: ['{ value: 320, at: 0.1 mA }'] },
);

/** A plain number, one point with its band, or a list of points. */
export const currentGain: Field<CurrentGain> = oneOf<CurrentGain>(
  [
    {
      fits: isText,
      schema: gain('hFE at every collector current', '320').transform((value): CurrentGain => ({
        points: [{ value, at: 0 }],
      })),
    },
    { fits: isMap, schema: bandOfGain },
    {
      fits: isList,
      schema: ascending(list(pointOfGain, { description: 'hFE over collector current', least: 1 })).transform(
        (points): CurrentGain => ({ points }),
      ),
    },
  ],
  { description: 'DC current gain hFE', examples: ['320', '{ low: 200, typical: 320, high: 500, at: 0.1 mA }'] },
);

/** A frequency at a stated collector current, or a plain one. */
export const transitFrequency: Field<{ readonly value: number; readonly at?: number }> = oneOf<{
  value: number;
  at?: number;
}>(
  [
    {
      fits: isText,
      schema: quantity('Hz', {
        description: 'fT at whatever current the bias turns out to be',
        examples: ['150 MHz'],
        positive: true,
      }).transform((value) => ({ value })),
    },
    {
      fits: isMap,
      schema: figureAt('Hz', 'A', {
        description: 'fT at a collector current',
        examples: ['150 MHz'],
        positive: true,
        at: { description: 'Collector current', examples: ['5 mA'] },
      }),
    },
  ],
  { description: 'Transition frequency fT', examples: ['{ value: 150 MHz, at: 5 mA }'] },
);

/** Volts at a current, as VBE, VF and VZ are stated. */
export function voltsAt(told: Told & { readonly at: Told }): Field<FigureAt> {
  return figureAt('V', 'A', { ...told, positive: true });
}

const forwardVolts = voltsAt({
  description: 'Forward voltage at a current',
  examples: ['0.65 V'],
  at: { description: 'Forward current', examples: ['1 mA'] },
});

/** One point, or a list of one or two, ascending in current and in volts. */
export const forwardPoints: Field<readonly FigureAt[]> = oneOf<readonly FigureAt[]>(
  [
    { fits: isMap, schema: forwardVolts.transform((point) => [point]) },
    {
      fits: isList,
      schema: ascending(
        list(forwardVolts, {
          description: 'One or two points',
          examples: ['[{ value: 1.2 V, at: 1 mA }, { value: 1.35 V, at: 10 mA }]'],
          least: 1,
          most: 2,
        }),
      ).superRefine(([first, second], context) => {
        if (first === undefined || second === undefined || second.value > first.value || second.at === first.at) return;
        const message = 'falls as the current rises; write two points with the higher voltage at the higher current';
        addFault(context, { code: 'out-of-range', message });
      }),
    },
  ],
  { description: 'Forward voltage VF', examples: ['{ value: 0.65 V, at: 1 mA }'] },
);

/** The points by rising current; two at one current are refused. */
function ascending(points: Field<FigureAt[]>): z.ZodType<readonly FigureAt[], unknown> {
  return points
    .transform((written) => [...written].sort((a, b) => a.at - b.at))
    .superRefine((sorted, context) => {
      if (sorted.every((point, index) => index === 0 || point.at > (sorted[index - 1]?.at ?? 0))) return;
      addFault(context, { code: 'out-of-range', message: 'has two points at one current; write one for each current' });
    });
}
