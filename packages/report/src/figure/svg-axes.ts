import type { Plate } from './plate.ts';
import { shareAlong, type Axis, type Tick } from './scales.ts';
import { element, escaped, textWidth } from './svg-text.ts';

/** Where values stand on a plate. */
export interface Places {
  across(value: number): number;
  up(value: number): number;
}

export function placesOf({ left, right, top, bottom }: Plate, x: Axis, y: Axis): Places {
  return {
    across: (value) => left + shareAlong(x, value) * (right - left),
    up: (value) => bottom - shareAlong(y, value) * (bottom - top),
  };
}

/** Grid, rule and numbers of the axis at the foot; numbers that would touch are left out, the last in rank first. */
export function footAxis(plate: Plate, axis: Axis, across: (value: number) => number): readonly string[] {
  const { bottom, top, right, text, ink, left } = plate;
  const lineAt = (tick: Tick): string => {
    const x = across(tick.at);
    return element('path', {
      d: `M${round(x)} ${top}V${bottom}`,
      stroke: ink('grid'),
      'stroke-width': tick.rank === 0 ? 1.2 : 0.7,
    });
  };
  const numbers = shown(axis.ticks, (tick) => {
    const half = textWidth(tick.text, text) / 2 + 3;
    return [across(tick.at) - half, across(tick.at) + half];
  });
  return [
    ...axis.ticks.map(lineAt),
    element('path', { d: `M${left} ${bottom}H${right}`, stroke: ink('muted'), 'stroke-width': 1 }),
    ...axis.ticks.map((tick) =>
      element('path', { d: `M${round(across(tick.at))} ${bottom}v4`, stroke: ink('muted'), 'stroke-width': 1 }),
    ),
    ...numbers.map((tick) => label(plate, across(tick.at), bottom + text + 6, 'middle', tick.text)),
    label(plate, plate.width, bottom + text + 6, 'end', axis.unit),
  ];
}

/** Grid and numbers of the axis at the side, its unit above them. */
export function sideAxis(plate: Plate, axis: Axis, up: (value: number) => number): readonly string[] {
  const { left, right, top, text, ink } = plate;
  const numbers = shown(axis.ticks, (tick) => [up(tick.at) - text * 0.65, up(tick.at) + text * 0.65]);
  return [
    ...axis.ticks.map((tick) => {
      const isZero = axis.scale === 'linear' && tick.at === 0;
      return element('path', {
        d: `M${left} ${round(up(tick.at))}H${right}`,
        stroke: ink(isZero ? 'muted' : 'grid'),
        'stroke-width': isZero ? 0.8 : 0.7,
      });
    }),
    ...numbers.map((tick) => label(plate, left - 8, up(tick.at) + text * 0.35, 'end', tick.text)),
    label(plate, left - 8, top - text * 0.75, 'end', axis.unit),
  ];
}

/** Ticks whose numbers have room, those of low rank served first. */
function shown(ticks: readonly Tick[], room: (tick: Tick) => readonly [number, number]): readonly Tick[] {
  const taken: (readonly [number, number])[] = [];
  const served = ticks
    .toSorted((a, b) => a.rank - b.rank)
    .filter((tick) => {
      const [from, to] = room(tick);
      if (taken.some(([start, end]) => from < end && to > start)) return false;
      taken.push([from, to]);
      return true;
    });
  return ticks.filter((tick) => served.includes(tick));
}

export function label(
  { ink }: Plate,
  x: number,
  y: number,
  anchor: 'start' | 'middle' | 'end',
  content: string,
): string {
  return element(
    'text',
    { x, y, fill: ink('muted'), 'text-anchor': anchor === 'start' ? undefined : anchor },
    escaped(content),
  );
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
