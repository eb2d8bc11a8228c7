import type { Circuit } from '@curvewright/board';
import { inkReader } from '../figure/plate.ts';
import { element, escaped, short } from '../figure/svg-text.ts';
import { frequency } from '../numbers.ts';
import { typeSize } from './captions.ts';
import type { StagePlateOptions } from './options.ts';
import { square, type Scene } from './scene.ts';
import { stepOf, stepWords } from './shading.ts';
import { stageScene } from './stage-scene.ts';
import { namesOfParts, stageDrawingText } from './stage-text.ts';
import { svgHatch, svgScene } from './svg-scene.ts';

/** Pixels. */
const margin = 16;
const titleSize = 16;
const lineHeight = 20;
const swatch = { width: 36, height: 14 };
const legendStep = 118;

/**
 * A channel's circuit as SVG that stands for itself: no script, no style sheet, no font, no id. Every part is a group with
 * `data-ref`; the text equivalent is its title and description. Throws where the circuit has no such channel.
 */
export function stageDrawing(circuit: Circuit, channel: string, options: StagePlateOptions): string {
  const scene = stageScene(circuit, channel, options);
  const { ink, titled, title, only, shares } = options;
  const read = inkReader(ink);
  const names = namesOfParts(circuit, channel, options);
  const shareOf = new Map(shares?.parts.map(({ ref, share }) => [ref, share]));
  const notes = [
    ...(only?.kind === 'dc'
      ? ['For the bias: capacitors are open, and what then carries no current is left out.']
      : []),
    ...(only?.kind === 'ac' ? [`For the signal: rails on common, reactances at ${frequency(only.hz)}.`] : []),
    ...(shares === undefined ? [] : [`Shaded: each part's share in ${shares.what}.`]),
  ];
  const plate = plateOf(scene, titled, notes.length + (shares === undefined ? 0 : 1));
  const words = (x: number, y: number, text: string, more: Readonly<Record<string, number>> = {}): string =>
    element('text', { x, y, fill: read('text'), ...more }, escaped(text));
  return element(
    'svg',
    {
      ...{ xmlns: 'http://www.w3.org/2000/svg', class: 'figure figure-stage', role: 'img', fill: 'none' },
      viewBox: [plate.left, plate.top, plate.width, plate.height].map(short).join(' '),
      ...{ width: plate.width, height: plate.height, 'font-size': typeSize },
      'font-family': ink === 'page' ? undefined : 'system-ui, sans-serif',
    },
    [
      element('title', {}, escaped(title)),
      element('desc', {}, escaped(stageDrawingText(circuit, channel, options).join(' '))),
      ...(ink === 'light' || ink === 'dark'
        ? [
            element('rect', {
              x: plate.left,
              y: plate.top,
              width: plate.width,
              height: plate.height,
              fill: read('paper'),
            }),
          ]
        : []),
      ...(titled
        ? [words(plate.left + margin, plate.top + titleSize + 6, title, { 'font-size': titleSize, 'font-weight': 600 })]
        : []),
      ...svgScene(
        scene,
        read,
        (ref) => stepOf(shareOf.get(ref) ?? 0),
        (ref) => names.get(ref) ?? ref,
      ),
      ...notes.map((note, n) => words(plate.left + margin, plate.notes + n * lineHeight, note)),
      ...(shares === undefined ? [] : legend(read, plate.left + margin, plate.notes + notes.length * lineHeight)),
    ].join('\n'),
  );
}

interface StagePlate {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** Base line of the first note. */
  readonly notes: number;
}

/** Wide enough for the legend, whatever the circuit. */
function plateOf({ frame }: Scene, titled: boolean, lines: number): StagePlate {
  const left = frame.left * square - margin;
  const head = titled ? titleSize + margin : 0;
  const top = frame.top * square - margin - head;
  const notes = frame.bottom * square + margin + lineHeight;
  const width = Math.max((frame.right - frame.left) * square, 5 * legendStep) + 2 * margin;
  return {
    left,
    top,
    width,
    height: (lines === 0 ? frame.bottom * square : notes + (lines - 1) * lineHeight) + margin - top,
    notes,
  };
}

/** A swatch of each step with what it stands for; the share itself is written at every part. */
function legend(ink: ReturnType<typeof inkReader>, x: number, y: number): readonly string[] {
  return [1, 2, 3, 4, 5].flatMap((step, n) => {
    const left = x + n * legendStep;
    const box = { left, right: left + swatch.width, top: y - swatch.height + 3, bottom: y + 3 };
    const squares = {
      left: box.left / square,
      right: box.right / square,
      top: box.top / square,
      bottom: box.bottom / square,
    };
    return [
      svgHatch(squares, ink, step),
      element('rect', { x: box.left, y: box.top, ...swatch, stroke: ink('text'), 'stroke-width': 0.35 * step + 0.65 }),
      element('text', { x: box.right + 6, y, fill: ink('text') }, escaped(stepWords(step))),
    ];
  });
}
