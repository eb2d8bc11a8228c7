import type { FittedString } from '@curvewright/verify';
import { cellsOf, padEnd, wrap } from '../cells.ts';

/** A diode with its leads and a sleeved joint, wide and narrow. */
const shapes = [
  { body: '┤    ▐├', sleeve: '══════' },
  { body: '┤▐├', sleeve: '══' },
] as const;

/** A string of diodes from hole to hole: every band at the cathode side, a sleeve over every joint. */
export function stringText({ members, anode, cathode }: FittedString, width: number): readonly string[] {
  const lead = `${anode} ──`;
  const drawn = shapes.map(({ body, sleeve }) => {
    const names = members.map(({ type }) => padEnd(type, cellsOf(body))).join(' '.repeat(sleeve.length));
    return [
      `${' '.repeat(cellsOf(lead))}${names}`.trimEnd(),
      `${lead}${members.map(() => body).join(sleeve)}── ${cathode}`,
    ];
  });
  const fitting = drawn.find((lines) => lines.every((line) => cellsOf(line) <= width)) ?? drawn.at(-1) ?? [];
  return [...fitting, ...wrap('▐ band, towards the cathode; ══ insulating sleeve over the joint', width)];
}
