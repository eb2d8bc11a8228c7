import { mergeLimits } from '@curvewright/board';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviationFigure } from '../src/figure/deviation-figure.ts';
import type { CurveFigure, Figure } from '../src/figure/figure.ts';
import { hzAxis, plainAxis } from '../src/figure/scales.ts';
import type { StateCurve } from '../src/figure/state-curves.ts';
import { svgFigure, type PlateOptions } from '../src/figure/svg-figure.ts';
import { pointsOf, readSvg, wordAt, type SvgElement } from './read-svg.ts';

const print: PlateOptions = { size: 'full', ink: 'print', titled: true };
const hz = Array.from({ length: 283 }, (_, n) => 2 * 50_000 ** (n / 282));

function curve(state: StateCurve['state'], ...channels: ((hz: number) => number)[]): StateCurve {
  const deviationDb = channels.map((db) => hz.map(db));
  return { state, hz, deviationDb, gainDb: deviationDb };
}

function deviation(...curves: StateCurve[]): CurveFigure {
  return deviationFigure(['left', 'right'], curves, mergeLimits(), null);
}

const states = deviation(
  curve(
    'drawn',
    () => 0.1,
    () => 0.2,
  ),
  curve(
    'found',
    () => -0.8,
    () => -0.9,
  ),
  curve(
    'rebuilt',
    () => 1,
    (f) => (f < 1000 ? 1 : 0),
  ),
);

/** Lines of the plot: paths with more points than a key's sample or a hairline has. */
function linesOf(elements: readonly SvgElement[]): readonly SvgElement[] {
  return elements.filter(({ name, attributes }) => name === 'path' && pointsOf(attributes.d ?? '').length > 20);
}

describe('a figure as SVG', () => {
  const elements = readSvg(svgFigure(states, print));

  it('is a picture with its words for whoever does not see it', () => {
    const [picture, title, description] = elements;
    expect(picture?.attributes).toMatchObject({ role: 'img', xmlns: 'http://www.w3.org/2000/svg' });
    expect(title).toMatchObject({ name: 'title', text: 'Deviation from the RIAA curve' });
    expect(description).toMatchObject({ name: 'desc', text: states.words });
    expect(states.words).toContain('rebuilt, right: +1.00 dB at 20 Hz');
  });

  it('places the frequencies by their logarithm', () => {
    const x = (text: string): number => wordAt(elements, text).x;
    // Two decimals of a pixel are written.
    expect((x('1k') - x('2')) / (x('20k') - x('2'))).toBeCloseTo(Math.log(500) / Math.log(10_000), 4);
    expect((x('200') - x('2')) / (x('20k') - x('2'))).toBeCloseTo(0.5, 4);
  });

  it('draws a value at the height of its number', () => {
    const lines = linesOf(elements);
    // Drawn and found: a line and its fine one each; rebuilt: left, right, and the fine one.
    expect(lines).toHaveLength(9);
    const left = pointsOf(lines[6]!.attributes.d!);
    const [zero, one] = [wordAt(elements, '0').y, wordAt(elements, '+1.0').y];
    const below = wordAt(elements, '−1.0').y - zero;
    // Numbers stand a little under their line, all by the same; paths are written in tenths.
    const shift = 0.35 * 12.5;
    for (const [, y] of left) expect(Math.abs(y - (one - shift))).toBeLessThan(0.06);
    expect(zero - one).toBeCloseTo(below, 1);
  });

  it('fills the plot from the first number to the last', () => {
    const clip = elements.find(({ name, attributes }) => name === 'svg' && attributes.x !== undefined)?.attributes;
    const [top, height] = [Number(clip?.y), Number(clip?.height)];
    const shift = 0.35 * 12.5;
    expect(wordAt(elements, '+1.5 dB').y - shift).toBeCloseTo(top, 1);
    expect(wordAt(elements, '−1.5').y - shift).toBeCloseTo(top + height, 1);
  });

  it('writes beside a line, not over it', () => {
    const wordOn = (y: readonly number[]): SvgElement | undefined => {
      const axes = { x: hzAxis(), y: plainAxis(0, 4, 'V') };
      const line = { label: 'rebuilt', channel: null, look: 'rebuilt', double: false, x: [2, 100_000], y } as const;
      const note = { look: 'rebuilt', x: Math.sqrt(200_000), y: 2, text: 'here' } as const;
      const common = { kind: 'curves', id: 'cartridge', title: '', words: '', bands: [], limits: [] } as const;
      const read = readSvg(svgFigure({ ...common, ...axes, series: [line], notes: [note] }, print));
      return read.find(({ text }) => text === 'here');
    };
    // The ring stands in the middle of the plot. Over a falling line there is room on the right, over a rising one on the left.
    expect(wordOn([4, 0])?.attributes['text-anchor']).toBe('start');
    expect(wordOn([0, 4])?.attributes['text-anchor']).toBe('end');
  });

  it('draws a step at its frequency', () => {
    const right = pointsOf(linesOf(elements)[7]!.attributes.d!);
    const first = right.findIndex(([, y]) => Math.abs(y - right.at(-1)![1]) < 0.06);
    // The next point above 1 kHz is at most 1/60 decade away: 2.3 of the plot's 646 pixels.
    expect(right[first]![0] - wordAt(elements, '1k').x).toBeGreaterThanOrEqual(-0.06);
    expect(right[first]![0] - wordAt(elements, '1k').x).toBeLessThan(2.4);
  });

  it('tells states and channels apart by width, dash and a fine second line', () => {
    const strokes = linesOf(elements).map(({ attributes }) => [
      attributes['stroke-width'],
      attributes['stroke-dasharray'],
    ]);
    expect(strokes).toEqual([
      ['1.25', undefined],
      ['1.25', undefined],
      ['0.9', undefined],
      ['1.75', '9 5'],
      ['1.75', '9 5'],
      ['0.9', '9 5'],
      ['2.75', undefined],
      ['2.75', undefined],
      ['0.9', undefined],
    ]);
    const squares = elements.filter(({ name, attributes }) => name === 'rect' && attributes.width === '6');
    expect(new Set(squares.map(({ attributes }) => attributes.stroke))).toEqual(new Set(['#9A6700']));
    for (const text of ['drawn', 'found', 'rebuilt', 'left', 'right']) wordAt(elements, text);
  });

  it('runs the fine line beside its line at the same distance', () => {
    const [, second, fine] = linesOf(elements).map(({ attributes }) => pointsOf(attributes.d!));
    // Half of 1.25, 1.6 between, half of 0.9; tenths are written.
    second!.forEach(([x, y], n) => {
      expect(fine![n]![0]).toBeCloseTo(x, 1);
      expect(Math.abs(y - fine![n]![1] - 2.675)).toBeLessThan(0.11);
    });
  });

  it('writes the limits on their hairlines', () => {
    for (const text of ['+0.5 dB good', '−0.5 dB good', '+1 dB look', '−1 dB look']) wordAt(elements, text);
    const dashes = elements.map(({ attributes }) => attributes['stroke-dasharray']);
    expect(dashes.filter((dash) => dash === '1.5 2.5').length).toBeGreaterThanOrEqual(2);
    const small = readSvg(svgFigure(states, { ...print, size: 'small' }));
    wordAt(small, '+1 dB look');
  });

  it('keeps what leaves the plot inside a clip of its own', () => {
    const steep = readSvg(svgFigure(deviation(curve('rebuilt', (f) => (f < 100 ? -500 : 0))), print));
    const clip = steep.find(({ name, attributes }) => name === 'svg' && attributes.x !== undefined);
    expect(Number(clip?.attributes.x)).toBe(wordAt(steep, '2').x);
    // One height of the plot past its edge is enough to lead the line out.
    const lowest = Math.max(...pointsOf(linesOf(steep)[0]!.attributes.d!).map(([, y]) => y));
    const { y = '', height = '' } = clip?.attributes ?? {};
    expect(lowest).toBeCloseTo(Number(y) + 2 * Number(height), 0);
  });

  it('interrupts a line where a point is no number', () => {
    const broken = readSvg(svgFigure(deviation(curve('rebuilt', (f) => (f > 100 && f < 200 ? NaN : 0))), print));
    expect(linesOf(broken)[0]?.attributes.d?.match(/M/g)).toHaveLength(2);
  });

  it('needs no style sheet, script, font or id', () => {
    for (const ink of ['page', 'light', 'dark', 'print'] as const) {
      const svg = svgFigure(states, { ...print, ink });
      expect(svg).not.toMatch(/ style=|<style|<script| id=|href|url\(| on[a-z]+=/);
    }
  });

  it('takes its inks from the page, or brings them', () => {
    const page = svgFigure(states, { ...print, ink: 'page' });
    expect(page).toContain('stroke="var(--ink-rebuilt,#0B6E75)"');
    expect(page).not.toContain('font-family');
    expect(svgFigure(states, { ...print, ink: 'dark' })).toContain('stroke="#4FB8C0"');
    expect(svgFigure(states, print)).not.toContain('var(');
    // Only what stands for itself brings paper.
    const papers = (['page', 'light', 'dark', 'print'] as const).map((ink) =>
      readSvg(svgFigure(states, { ...print, ink })).some(
        ({ name, attributes }) => name === 'rect' && attributes.width === '720',
      ),
    );
    expect(papers).toEqual([false, true, true, false]);
  });

  it('leaves out its title where the page writes it', () => {
    const words = (titled: boolean): readonly string[] =>
      readSvg(svgFigure(states, { ...print, titled })).flatMap(({ name, text }) => (name === 'text' ? [text] : []));
    expect(words(true)).toContain('Deviation from the RIAA curve');
    expect(words(false)).not.toContain('Deviation from the RIAA curve');
  });

  it.each(['full', 'small'] as const)('lets no two numbers of an axis touch, %s', (size) => {
    const drawn = readSvg(svgFigure(states, { ...print, size }));
    const foot = Math.max(...drawn.filter(({ name }) => name === 'text').map(({ attributes }) => Number(attributes.y)));
    const numbers = drawn
      .filter(({ name, attributes }) => name === 'text' && Number(attributes.y) === foot)
      .map(({ attributes, text }) => ({ x: Number(attributes.x), text }))
      .toSorted((a, b) => a.x - b.x);
    expect(numbers.at(-1)?.text).toBe('100k Hz');
    for (let i = 1; i < numbers.length; i++) {
      const [a, b] = [numbers[i - 1]!, numbers[i]!];
      // Digits of common sans faces are 0.5 to 0.64 of the size wide.
      expect(b.x - a.x).toBeGreaterThan(0.5 * 11.5 * ((a.text.length + b.text.length) / 2));
    }
  });

  it('is the same every time', () => {
    expect(svgFigure(states, print)).toBe(svgFigure(structuredClone(states), print));
  });

  it('holds foreign names and any numbers', () => {
    const text = fc.oneof(
      fc.constantFrom(
        '<img src=x onerror=alert(1)>',
        '"><script>',
        "' onload='x",
        ']]>',
        '&amp;',
        '\u0000\u202E\uFFFE',
      ),
      fc.string({ unit: 'binary' }),
    );
    const number = fc.oneof(fc.double(), fc.constantFrom(NaN, Infinity, -Infinity, 1e308, -1e308, 0));
    fc.assert(
      fc.property(text, text, fc.array(number, { maxLength: 30 }), number, (name, words, y, at) => {
        const x = y.map((_, n) => 2 * 1.4 ** n);
        const figure: Figure = {
          ...{ kind: 'curves', id: 'cartridge', title: name, words, x: hzAxis(), y: plainAxis(0, 1, 'V') },
          series: [{ label: name, channel: words, look: 'found', double: true, x, y }],
          bands: [{ name, look: 'rebuilt', x, low: y, high: y.map((value) => value + 1) }],
          limits: [],
          notes: [{ look: 'rebuilt', x: 1000, y: at, text: name }],
        };
        for (const size of ['full', 'small'] as const) {
          const read = readSvg(svgFigure(figure, { ...print, size }));
          for (const { attributes } of read) {
            for (const key of ['d', 'x', 'y', 'cx', 'cy', 'width', 'height', 'viewBox']) {
              expect(attributes[key] ?? '').toMatch(/^[-\d. MLHVZhv]*$/);
            }
          }
        }
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });
});
