import type { Circuit, Limits } from '@curvewright/board';
import type { LiveTransfers } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import { rippleLines } from '../hum.ts';
import { programmeVolts } from '../source-words.ts';
import type { RowLayout } from '../spread/board-row.ts';
import type { SpreadFigure } from '../spread/spread-figures.ts';

/** Hum, crosstalk and input resistance, which stand behind the numbers of curve and bias in a row. */
export interface LineFigures {
  /** Hz at which a live board solves what its generators do. */
  readonly spots: Float64Array;
  readonly figures: readonly SpreadFigure[];
  /** Numbers of the whole row. */
  readonly size: number;
  /** Fills in the end of a row; its gains have to stand there already. */
  readInto(row: Float64Array, transfers: LiveTransfers): void;
}

/** As a check reads them (`humLevels`, `separationsAt`, `figuresOf`); no hum where no rail states a ripple, no crosstalk of one channel. */
export function lineFigures({ rails, channels }: Circuit, layout: RowLayout, limits: Limits): LineFigures {
  const lines = rails.flatMap((rail, index) => rippleLines(rail).map((line) => ({ ...line, rail: index })));
  const spots = Float64Array.from(
    new Set([...lines.map(({ hz }) => hz), limits.crosstalk.at, limits.input_resistance.at]),
  );
  const crosstalkAt = spots.indexOf(limits.crosstalk.at);
  const inputAt = spots.indexOf(limits.input_resistance.at);
  const places = lines.map(({ hz }) => spots.indexOf(hz));
  const { nominal, at, good, look } = limits.input_resistance;
  const against = `against ${printQuantity(nominal, 'Ω')} at ${printQuantity(at, 'Hz')}`;
  const asRead = (number: number): number => number;
  const kinds = [
    ...(lines.length === 0
      ? []
      : [{ what: 'hum', unit: 'dB', side: 'at most', ...limits.hum, where: 're 5 mV programme' } as const]),
    ...(channels.length < 2
      ? []
      : [
          {
            ...({ what: 'crosstalk', unit: 'dB', side: 'at least' } as const),
            ...limits.crosstalk,
            where: `at ${printQuantity(limits.crosstalk.at, 'Hz')}`,
          },
        ]),
    {
      ...({ what: 'input_resistance', unit: '%', side: 'within' } as const),
      ...{ good: 100 * good, look: 100 * look, where: against },
    },
  ];
  const figures = kinds.flatMap(({ what, unit, side, good, look, where }, kind) =>
    channels.map((_, channel): SpreadFigure => ({
      ...{ what, unit, side, good, look, where, channel, hz: null, value: NaN, read: asRead },
      place: layout.size + kind * channels.length + channel,
    })),
  );

  function read(what: SpreadFigure['what'], channel: number, row: Float64Array, transfers: LiveTransfers): number {
    if (what === 'hum') {
      const programme = programmeVolts * 10 ** (row[layout.gain + channel]! / 20);
      const volts = lines.map(({ rail, volts }, n) => volts * transfers.fromRail(rail, channel, places[n]!));
      return 20 * Math.log10(Math.hypot(...volts) / programme);
    }
    if (what === 'input_resistance') return 100 * (1 / transfers.inputConductance(channel, inputAt) / nominal - 1);
    const separations = channels.flatMap((_, from) => {
      if (from === channel) return [];
      const leaked = transfers.fromInput(from, channel, crosstalkAt);
      return [20 * Math.log10(transfers.fromInput(from, from, crosstalkAt) / leaked)];
    });
    return Math.min(...separations);
  }

  return {
    spots,
    figures,
    size: layout.size + figures.length,
    readInto(row, transfers) {
      for (const { what, channel, place } of figures) row[place] = read(what, channel!, row, transfers);
    },
  };
}
