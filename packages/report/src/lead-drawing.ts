import type { LeadAnswer, LeadFit } from '@curvewright/verify';
import { inkReader, type PlateOptions } from './figure/plate.ts';
import { element, escaped } from './figure/svg-text.ts';

/** Pixels. */
const block = { width: 168, gap: 24, top: 30 };
const caseSize = { width: 128, height: 56 };
const leadStep = 44;
const text = 12.5;
const rows = { letters: 104, wires: 112, holes: 160, below: 180, height: 192 };

type Ink = ReturnType<typeof inkReader>;

/** The print and every case that may be in hand as SVG, all from the component side with the printed flat towards the reader. */
export function leadDrawing(
  { ref, holes, typeName, cases, row }: LeadAnswer,
  options: Pick<PlateOptions, 'ink'>,
): string {
  const ink = inkReader(options.ink);
  const blocks = [
    blockOf(ink, 0, 'the print', { flat: 'front', standing: holes, inHoles: holes, crossed: [] }),
    ...cases.map(({ front, fit }, n) =>
      blockOf(ink, n + 1, cases.length > 1 ? `${typeName}, ${front}` : typeName, fit),
    ),
  ];
  const width = blocks.length * (block.width + block.gap);
  return element(
    'svg',
    {
      ...{ xmlns: 'http://www.w3.org/2000/svg', class: 'figure figure-leads', role: 'img', fill: 'none' },
      ...{ viewBox: `0 0 ${width} ${rows.height}`, width, height: rows.height, 'font-size': text },
      'font-family': options.ink === 'page' ? undefined : 'system-ui, sans-serif',
    },
    [
      element('title', {}, escaped(`Leads of ${ref}, seen from the component side, printed flat towards the reader`)),
      element('desc', {}, escaped(row.cause)),
      ...blocks,
    ].join('\n'),
  );
}

function blockOf(
  ink: Ink,
  index: number,
  name: string,
  { flat, standing, inHoles, crossed }: Pick<LeadFit, 'flat' | 'standing' | 'inHoles' | 'crossed'>,
): string {
  const left = index * (block.width + block.gap);
  const middle = left + block.width / 2;
  const at = (n: number): number => middle + (n - (standing.length - 1) / 2) * leadStep;
  const words = (x: number, y: number, content: string): string =>
    element('text', { x, y, fill: ink('text'), 'text-anchor': 'middle' }, escaped(content));
  const wires = [...standing].map((lead, n) => {
    const sleeved = crossed.includes(lead);
    return element('path', {
      d: `M${at(n)} ${rows.wires}L${at(inHoles.indexOf(lead))} ${rows.holes}`,
      stroke: ink(sleeved ? 'found' : 'text'),
      'stroke-width': sleeved ? 5 : 1.5,
    });
  });
  return [
    words(middle, 18, name),
    element('path', { d: caseOutline(middle, flat), stroke: ink('text'), 'stroke-width': 1.5 }),
    words(middle, flat === 'front' ? block.top + caseSize.height - 6 : block.top + 15, 'flat'),
    ...[...standing].map((lead, n) => words(at(n), rows.letters, lead)),
    ...wires,
    ...[...inHoles].map((lead, n) => words(at(n), rows.below, lead)),
  ].join('\n');
}

/** Seen from above: straight where the flat is, round on the other side. */
export function caseOutline(middle: number, flat: LeadFit['flat']): string {
  const [left, right] = [middle - caseSize.width / 2, middle + caseSize.width / 2];
  const [top, bottom] = [block.top, block.top + caseSize.height];
  const [straight, round] = flat === 'front' ? [bottom, top] : [top, bottom];
  return `M${left} ${straight}L${right} ${straight}C${right} ${round} ${left} ${round} ${left} ${straight}Z`;
}
