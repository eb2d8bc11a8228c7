import { inkReader, type PlateOptions } from '../figure/plate.ts';
import { element, escaped, short } from '../figure/svg-text.ts';
import { typeSize } from './captions.ts';
import { square, type Mark, type PlacedPart, type Scene, type Spot, type Text } from './scene.ts';
import { symbolForm } from './symbols.ts';

export type Ink = ReturnType<typeof inkReader>;

export function svgScene(scene: Scene, ink: PlateOptions['ink']): string {
  const read = inkReader(ink);
  const m = 20;
  const { left, right, top, bottom } = scene.frame;
  const box = [left * square - m, top * square - m, (right - left) * square + 2 * m, (bottom - top) * square + 2 * m];
  return element('svg', { xmlns: 'http://www.w3.org/2000/svg', role: 'img', viewBox: box.map(short).join(' '), width: box[2], height: box[3], fill: 'none', 'font-size': typeSize, 'font-family': 'system-ui, sans-serif' }, [
    ...scene.wires.map(({ from, to }) => element('path', { d: `M${px(from)}L${px(to)}`, stroke: read('text'), 'stroke-width': 1 })),
    ...scene.dots.map(({ at }) => element('circle', { cx: at.x * square, cy: at.y * square, r: 2.5, fill: read('text') })),
    ...scene.parts.map((part) => drawPart(part, read)),
    ...scene.marks.map((mark) => drawMark(mark, read)),
    ...scene.texts.map((text) => drawText(text, read)),
  ].join('\n'));
}
function px({ x, y }: Spot): string { return `${short(x * square)} ${short(y * square)}`; }
function drawPart(part: PlacedPart, ink: Ink): string {
  const form = symbolForm(part.kind, part.leads.slice(1).map(({ lead }) => lead), '');
  const t = `translate(${px(part.at)})${part.turn.quarters === 0 ? '' : `rotate(${90 * part.turn.quarters})`}${part.turn.flipped ? 'scale(1 -1)' : ''}`;
  return element('g', { 'data-ref': part.ref, transform: t }, [
    element('path', { d: form.lines + (part.leads.some(({ lead }) => lead === 'rail above') ? 'M0 -40V-30M0 30V40' : ''), stroke: ink('text'), 'stroke-width': 1.25 }),
    form.heavy === '' ? '' : element('path', { d: form.heavy, stroke: ink('text'), 'stroke-width': 2.25 }),
    form.solid === '' ? '' : element('path', { d: form.solid, fill: ink('text') }),
  ].join(''));
}
function drawMark({ kind, at }: Mark, ink: Ink): string {
  const [x, y] = [at.x * square, at.y * square];
  const stroke = ink('text');
  switch (kind) {
    case 'common': return element('path', { d: `M${x} ${y}V${y + 6}M${x - 8} ${y + 6}H${x + 8}`, stroke, 'stroke-width': 2 });
    case 'rail above': return element('path', { d: `M${x} ${y}V${y - 6}M${x - 8} ${y - 6}H${x + 8}`, stroke, 'stroke-width': 1.25 });
    case 'rail below': return element('path', { d: `M${x} ${y}V${y + 6}M${x - 8} ${y + 6}H${x + 8}`, stroke, 'stroke-width': 1.25 });
    case 'input': return element('circle', { cx: x - 4, cy: y, r: 3.5, stroke });
    case 'output': return element('circle', { cx: x + 4, cy: y, r: 3.5, stroke });
  }
}
function drawText({ text, at, anchor, what }: Text, ink: Ink): string {
  return element('text', { x: at.x * square, y: at.y * square, 'text-anchor': anchor, fill: ink('text'), 'font-weight': what === 'ref' ? 600 : undefined }, escaped(text));
}
