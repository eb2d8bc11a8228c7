import type { Plate } from './plate.ts';
import { shareAlong, type Axis, type Tick } from './scales.ts';
import { element, escaped, short, textWidth } from './svg-text.ts';

/** Where values stand on a plate. */
export interface Places {
  readonly across: (value: number) => number;
  readonly up: (value: number) => number;
}

export function placesOf({ left, right, top, bottom }: Plate, x: Axis, y: Axis): Places {
  return {
    across: (value) => left + shareAlong(x, value) * (right - left),
    up: (value) => bottom - shareAlong(y, value) * (bottom - top),
  };
}

/** Grid, rule and numbers of the axis at the foot. */
export function footAxis(plate: Plate, axis: Axis, across: (value: number) => number): readonly string[] {
  const { bottom, top, left, right, width, text, ink } = plate;
  const centreOf = ({ at, text: number }: Tick): number => Math.min(across(at), width - textWidth(number, text) / 2);
  const numbers = shown(withUnit(axis), (tick) => {
    const half = textWidth(tick.text, text) / 2 + 3;
    return [centreOf(tick) - half, centreOf(tick) + half];
  });
  return [
    ...axis.ticks.map(({ at, rank }) =>
      element('path', {
        d: `M${short(across(at))} ${short(top)}V${short(bottom)}`,
        stroke: ink('grid'),
        'stroke-width': rank === 0 ? 1.2 : 0.7,
      }),
    ),
    element('path', {
      d: `M${left} ${bottom}H${right}${axis.ticks.map(({ at }) => `M${short(across(at))} ${bottom}v4`).join('')}`,
      stroke: ink('muted'),
    }),
    ...numbers.map((tick) => label(plate, centreOf(tick), bottom + text + 6, 'middle', tick.text)),
  ];
}

/** Pixels that the numbers of an axis at the side take. */
export function sideRoom(axis: Axis, text: number): number {
  return 8 + Math.max(0, ...withUnit(axis).map((tick) => textWidth(tick.text, text)));
}

/** Grid and numbers of the axis at the side. */
export function sideAxis(plate: Plate, axis: Axis, up: (value: number) => number): readonly string[] {
  const { left, right, text, ink } = plate;
  const numbers = shown(withUnit(axis), ({ at }) => [up(at) - text * 0.7, up(at) + text * 0.7]);
  return [
    ...axis.ticks.map(({ at }) =>
      element('path', {
        d: `M${left} ${short(up(at))}H${right}`,
        stroke: ink(axis.scale === 'linear' && at === 0 ? 'muted' : 'grid'),
        'stroke-width': 0.7,
      }),
    ),
    ...numbers.map((tick) => label(plate, left - 6, up(tick.at) + text * 0.35, 'end', tick.text)),
  ];
}

/** The last number carries the unit and is never left out. */
function withUnit({ ticks, unit }: Axis): readonly Tick[] {
  const last = ticks.at(-1);
  return ticks.map((tick) => (tick === last ? { ...tick, text: `${tick.text} ${unit}`, rank: 0 } : tick));
}

/** Ticks whose numbers have room: the last is served first, then those of low rank. */
function shown(ticks: readonly Tick[], room: (tick: Tick) => readonly [number, number]): readonly Tick[] {
  const taken: (readonly [number, number])[] = [];
  return ticks
    .toReversed()
    .toSorted((a, b) => a.rank - b.rank)
    .filter((tick) => {
      const [from, to] = room(tick);
      if (taken.some(([start, end]) => from < end && to > start)) return false;
      taken.push([from, to]);
      return true;
    });
}

export function label({ ink }: Plate, x: number, y: number, anchor: 'middle' | 'end', content: string): string {
  return element('text', { x, y, fill: ink('muted'), 'text-anchor': anchor }, escaped(content));
}
