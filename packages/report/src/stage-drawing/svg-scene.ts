import type { inkReader } from '../figure/plate.ts';
import { element, escaped, short } from '../figure/svg-text.ts';
import { square, type Box, type Mark, type PlacedPart, type Scene, type Spot, type Text } from './scene.ts';
import { hatch, strokeOf } from './shading.ts';
import { symbolForm } from './symbols.ts';

type Ink = ReturnType<typeof inkReader>;

/** Pixels. */
const wireStroke = 1;
const heavyStroke = 2.25;
const dotRadius = 2.5;

/** A scene's elements: wires first, then every part as a group with its name, its hatching, its symbol and its texts. */
export function svgScene(
  scene: Scene,
  ink: Ink,
  stepOfPart: (ref: string) => number,
  nameOf: (ref: string) => string,
): readonly string[] {
  const wires = scene.wires.map(({ from, to }) => `M${pixels(from)}L${pixels(to)}`).join('');
  const refs = new Set(scene.parts.map(({ ref }) => ref));
  return [
    element('path', { d: wires, stroke: ink('text'), 'stroke-width': wireStroke, 'stroke-linecap': 'square' }),
    ...scene.dots.map(({ at }) =>
      element('circle', { cx: at.x * square, cy: at.y * square, r: dotRadius, fill: ink('text') }),
    ),
    ...scene.marks.map((mark) => svgMark(mark, ink)),
    ...scene.parts.map((part) =>
      element(
        'g',
        { 'data-ref': part.ref },
        [
          element('title', {}, escaped(nameOf(part.ref))),
          ...svgPart(part, ink, stepOfPart(part.ref)),
          ...scene.texts.filter(({ of }) => of === part.ref).map((text) => svgText(text, ink)),
        ].join(''),
      ),
    ),
    ...scene.texts.filter(({ of }) => !refs.has(of)).map((text) => svgText(text, ink)),
  ];
}

function pixels({ x, y }: Spot): string {
  return `${short(x * square)} ${short(y * square)}`;
}

function svgPart({ kind, setting, at, turn, leads, body }: PlacedPart, ink: Ink, step: number): readonly string[] {
  const form = symbolForm(
    kind,
    leads.slice(1).map(({ lead }) => lead),
    setting,
  );
  const turns = [
    `translate(${pixels(at)})`,
    ...(turn.quarters === 0 ? [] : [`rotate(${90 * turn.quarters})`]),
    ...(turn.flipped ? ['scale(1 -1)'] : []),
  ];
  const supplied = leads.some(({ lead }) => lead === 'rail above') ? 'M0 -40V-30M0 30V40' : '';
  const symbol = [
    element('path', { d: form.lines + supplied, stroke: ink('text'), 'stroke-width': strokeOf(step) }),
    ...(form.heavy === ''
      ? []
      : [
          element('path', {
            d: form.heavy,
            stroke: ink('text'),
            'stroke-width': heavyStroke + strokeOf(step) - strokeOf(0),
          }),
        ]),
    ...(form.solid === '' ? [] : [element('path', { d: form.solid, fill: ink('text') })]),
  ];
  return [
    // Somebody who points at a part seldom hits its lines.
    element('rect', { ...rectangle(body), 'pointer-events': 'all' }),
    ...(step === 0 ? [] : [svgHatch(body, ink, step)]),
    element('g', { transform: turns.join('') }, symbol.join('')),
  ];
}

export function svgHatch(box: Box, ink: Ink, step: number): string {
  return element('path', { d: hatch(box, step), stroke: ink('rebuilt'), 'stroke-width': 0.9 });
}

function rectangle({ left, right, top, bottom }: Box): Readonly<Record<string, number>> {
  return { x: left * square, y: top * square, width: (right - left) * square, height: (bottom - top) * square };
}

function svgMark({ kind, at }: Mark, ink: Ink): string {
  const [x, y] = [at.x * square, at.y * square];
  const stroke = ink('text');
  const bar = (to: number): string => `M${x} ${y}V${to}M${x - 8} ${to}H${x + 8}`;
  switch (kind) {
    case 'common':
      return element('path', { d: bar(y + 6), stroke, 'stroke-width': 2 });
    case 'rail above':
      return element('path', { d: bar(y - 6), stroke, 'stroke-width': 1.25 });
    case 'rail below':
      return element('path', { d: bar(y + 6), stroke, 'stroke-width': 1.25 });
    case 'input':
      return element('circle', { cx: x - 4, cy: y, r: 3.5, stroke, 'stroke-width': 1.25 });
    case 'output':
      return element('circle', { cx: x + 4, cy: y, r: 3.5, stroke, 'stroke-width': 1.25 });
  }
}

function svgText({ text, at, anchor, what }: Text, ink: Ink): string {
  return element(
    'text',
    {
      ...{ x: at.x * square, y: at.y * square, 'text-anchor': anchor },
      fill: ink(what === 'volts' || what === 'current' || what === 'share' ? 'rebuilt' : 'text'),
      'font-weight': what === 'ref' ? 600 : undefined,
      'font-style': what === 'node' ? 'italic' : undefined,
    },
    escaped(text),
  );
}
