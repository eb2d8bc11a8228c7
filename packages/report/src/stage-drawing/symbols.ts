import { asDrawn, type Box, type Spot, type Turn } from './scene.ts';
import type { SymbolKind } from './symbol-kind.ts';

/** A symbol of IEC 60617 as it stands before it is turned; two leads lie along x, the first at the origin. */
export interface SymbolForm {
  readonly leads: Readonly<Record<string, Spot>>;
  readonly body: Box;
  /** Paths in pixels: outlines, lines of double weight, and filled ones. */
  readonly lines: string;
  readonly heavy: string;
  readonly solid: string;
}

/** Squares from lead to lead of a part with two leads. */
export const span = 6;

const acrossBody: Box = { left: 1, right: 5, top: -1, bottom: 1 };
const stageBody: Box = { left: -2, right: 2, top: -2, bottom: 2 };
const oneStroke = { heavy: '', solid: '' };

function across(lines: string, leads: readonly [string, string], more: Partial<SymbolForm> = {}): SymbolForm {
  const [first, second] = leads;
  return {
    leads: { [first]: { x: 0, y: 0 }, [second]: { x: span, y: 0 } },
    body: acrossBody,
    ...oneStroke,
    lines,
    ...more,
  };
}

const plates = 'M0 0H27M33 0H60';
const heavyPlates = 'M27 -10V10M33 -10V10';
const rectangle = 'M0 0H15M45 0H60M15 -5H45V5H15Z';
const bipolar = 'M-30 0H-6M-6 -4L10 -13V-30M-6 4L10 13V30M18 0A16 16 0 1 0 -14 0A16 16 0 1 0 18 0Z';
const junctionFet = 'M-30 0H-5M-5 -6H10V-30M-5 6H10V30M18 0A16 16 0 1 0 -14 0A16 16 0 1 0 18 0Z';
const bipolarLeads = { collector: { x: 1, y: -3 }, base: { x: -3, y: 0 }, emitter: { x: 1, y: 3 } };
const fetLeads = { drain: { x: 1, y: -3 }, gate: { x: -3, y: 0 }, source: { x: 1, y: 3 } };

const fixed: Readonly<Record<Exclude<SymbolKind, 'switch'>, SymbolForm>> = {
  resistor: across(rectangle, ['1', '2']),
  capacitor: across(plates, ['1', '2'], { heavy: heavyPlates }),
  'polarised capacitor': across(`${plates}M15 -7H21M18 -10V-4`, ['plus', 'minus'], { heavy: heavyPlates }),
  inductor: across('M0 0H14A4 4 0 0 1 22 0A4 4 0 0 1 30 0A4 4 0 0 1 38 0A4 4 0 0 1 46 0H60', ['1', '2']),
  'variable resistor': across(`${rectangle}M20 10L40 -10M37 -13L43 -7`, ['1', '2'], {
    body: { ...acrossBody, top: -1.4, bottom: 1.2 },
  }),
  trimmer: {
    leads: { '1': { x: 0, y: 0 }, '2': { x: span, y: 0 }, wiper: { x: 3, y: 3 } },
    body: { ...acrossBody, top: -1, bottom: 2 },
    lines: `${rectangle}M30 30V10`,
    heavy: 'M24 -9H36',
    solid: 'M30 5L26 12H34Z',
  },
  diode: across('M0 0H23M37 0H60M23 -7V7L37 0ZM37 -8V8', ['anode', 'cathode']),
  zener: across('M0 0H23M37 0H60M23 -7V7L37 0ZM32 -8H37V8', ['anode', 'cathode']),
  npn: { leads: bipolarLeads, body: stageBody, lines: bipolar, heavy: 'M-6 -10V10', solid: 'M8 12L-1 10.5L2.5 4.5Z' },
  pnp: {
    leads: bipolarLeads,
    body: stageBody,
    lines: bipolar,
    heavy: 'M-6 -10V10',
    solid: 'M-4.5 4.8L4.5 6.5L1.2 12Z',
  },
  'jfet-n': { leads: fetLeads, body: stageBody, lines: junctionFet, heavy: 'M-5 -10V10', solid: 'M-6 0L-13 -3.5V3.5Z' },
  'jfet-p': { leads: fetLeads, body: stageBody, lines: junctionFet, heavy: 'M-5 -10V10', solid: 'M-14 0L-7 -3.5V3.5Z' },
  triode: {
    leads: { anode: { x: 0, y: -3 }, grid: { x: -3, y: 0 }, cathode: { x: 0, y: 3 } },
    body: stageBody,
    lines:
      'M18 0A18 18 0 1 0 -18 0A18 18 0 1 0 18 0ZM0 -30V-10M-30 0H-12M-9 0H-4M-1 0H4M7 0H12M-9 12V10A3 3 0 0 1 -6 7H6A3 3 0 0 1 9 10M0 30V18',
    heavy: 'M-9 -10H9',
    solid: '',
  },
  opamp: {
    leads: {
      minus: { x: -4, y: -2 },
      plus: { x: -4, y: 2 },
      out: { x: 4, y: 0 },
      'rail above': { x: 0, y: -4 },
      'rail below': { x: 0, y: 4 },
    },
    body: { left: -3, right: 3, top: -3, bottom: 3 },
    lines:
      'M-30 -30H30V30H-30ZM-40 -20H-30M-40 20H-30M30 0H40M-26 -20H-19M-26 20H-19M-22.5 16.5V23.5M-8 -24L2 -19L-8 -14Z' +
      'M14 -19C12 -23 7 -23 7 -19C7 -15 12 -15 14 -19C16 -23 21 -23 21 -19C21 -15 16 -15 14 -19Z',
    heavy: '',
    solid: '',
  },
};

/** The form of a symbol; `positions` are a switch's, in order, and `at` the one it stands at. */
export function symbolForm(kind: SymbolKind, positions: readonly string[] = [], at: string = ''): SymbolForm {
  return kind === 'switch' ? switchForm(positions, at) : fixed[kind];
}

/** The pole at the origin, a contact every two squares; a pole may be shown at any of them. */
function switchForm(positions: readonly string[], at: string): SymbolForm {
  const levels = positions.map((_, n) => 2 * n);
  const chosen = 2 * Math.max(0, positions.indexOf(at));
  return {
    leads: {
      pole: { x: 0, y: 0 },
      ...Object.fromEntries(positions.map((name, n) => [name, { x: span, y: 2 * n }])),
    },
    body: { left: 1, right: 5, top: -1, bottom: Math.max(1, (levels.at(-1) ?? 0) + 1) },
    lines: [
      'M0 0H15M19 0A2 2 0 1 0 15 0A2 2 0 1 0 19 0Z',
      ...levels.map((y) => `M45 ${10 * y}H60M45 ${10 * y}A2 2 0 1 0 41 ${10 * y}A2 2 0 1 0 45 ${10 * y}Z`),
      `M19 -1L41 ${10 * chosen - (chosen === 0 ? 5 : 1)}`,
    ].join(''),
    ...oneStroke,
  };
}

/** A spot of a symbol after it is turned. */
export function turned({ x, y }: Spot, { quarters, flipped }: Turn = asDrawn): Spot {
  const v = flipped ? -y : y;
  switch (quarters) {
    case 0:
      return { x, y: v };
    case 1:
      return { x: -v, y: x };
    case 2:
      return { x: -x, y: -v };
    case 3:
      return { x: v, y: -x };
  }
}

export function turnedBox(box: Box, turn: Turn): Box {
  const [a, b] = [turned({ x: box.left, y: box.top }, turn), turned({ x: box.right, y: box.bottom }, turn)];
  return { left: Math.min(a.x, b.x), right: Math.max(a.x, b.x), top: Math.min(a.y, b.y), bottom: Math.max(a.y, b.y) };
}
