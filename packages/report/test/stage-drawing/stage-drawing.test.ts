import { mergeLimits } from '@curvewright/board';
import { channelBias, partShares, solveStage, voltsByNode } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { stageDrawing, stageDrawingText, type StagePlateOptions } from '../../src/index.ts';
import { readSvg } from '../read-svg.ts';
import { boardOf, seedBoard } from './seed-boards.ts';

const { circuit } = seedBoard('lk417');
const solved = solveStage(circuit);
if (!solved.ok) throw new Error('no bias');
const stage = solved.value;
const shares = partShares(stage, 'left', 'bass', mergeLimits({}))!;
const plain: StagePlateOptions = { ink: 'print', titled: true, title: 'LK 417, left' };

describe('a stage drawing as SVG', () => {
  it('is an image with a title and its text equivalent', () => {
    const [root, title, description] = readSvg(stageDrawing(circuit, 'left', plain));
    expect(root?.attributes.role).toBe('img');
    expect(title?.text).toBe('LK 417, left');
    expect(description?.text).toBe(stageDrawingText(circuit, 'left', {}).join(' '));
  });

  it('has a named group for every part', () => {
    const elements = readSvg(stageDrawing(circuit, 'left', plain));
    const refs = elements.flatMap(({ attributes }) => attributes['data-ref'] ?? []);
    const parts = circuit.parts.filter(({ channel }) => channel !== 'right').map(({ ref }) => ref);
    expect(refs.toSorted()).toEqual(parts.toSorted());
    expect(elements.filter(({ name }) => name === 'title').map(({ text }) => text)).toContain('R109, 5.6 kΩ');
  });

  it('draws a resistor as a rectangle and a capacitor as two plates', () => {
    const svg = stageDrawing(circuit, 'left', plain);
    const group = (ref: string): string => svg.split(`data-ref="${ref}"`)[1]!.split('</g></g>')[0]!;
    expect(group('R109')).toContain('M15 -5H45V5H15Z');
    expect(group('C109')).toContain('M27 -10V10M33 -10V10');
  });

  it('takes its colours from the page, or has them itself', () => {
    expect(stageDrawing(circuit, 'left', { ...plain, ink: 'page' })).toContain('var(--ink-text,');
    expect(stageDrawing(circuit, 'left', plain)).not.toContain('var(');
  });

  it('needs no id, style or script', () => {
    expect(stageDrawing(circuit, 'left', { ...plain, shares })).not.toMatch(/ id=| style=|<style|<script|url\(/);
  });

  it('tells shares by hatching, by the weight of the stroke and by a number', () => {
    const svg = stageDrawing(circuit, 'left', { ...plain, shares });
    const group = (ref: string): string => svg.split(`data-ref="${ref}"`)[1]!.split('data-ref')[0]!;
    const strokeOf = (ref: string): number =>
      Number(/<path d="M0 0H15[^"]*" stroke="[^"]*" stroke-width="([\d.]+)"/.exec(group(ref))![1]);
    const linesOf = (ref: string): number =>
      (/<path d="([^"]*)" stroke="#0B6E75"/.exec(group(ref))?.[1] ?? '').split('M').length - 1;
    // R119 and R111 set the bass of this board; R117 loads the follower only.
    expect(strokeOf('R119')).toBeGreaterThan(strokeOf('R111'));
    expect(strokeOf('R111')).toBeGreaterThan(strokeOf('R117'));
    expect(linesOf('R119')).toBeGreaterThan(linesOf('R111'));
    expect(linesOf('R117')).toBe(0);
    const share = shares.parts.find(({ ref }) => ref === 'R119')!.share;
    expect(group('R119')).toContain(`>${Math.round(100 * share)} %<`);
    for (const words of ['1 to 5 %', '5 to 10 %', '10 to 20 %', '20 to 40 %', '40 % and more'])
      expect(svg).toContain(`>${words}<`);
    expect(svg).toContain('share in the deviation at 20 Hz');
  });

  it('is the same every time', () => {
    expect(stageDrawing(circuit, 'left', { ...plain, shares })).toBe(
      stageDrawing(circuit, 'left', { ...plain, shares }),
    );
  });
});

describe('a stage drawing in words', () => {
  it('follows the signal, then names every part with its nodes', () => {
    const [way, ...parts] = stageDrawingText(circuit, 'left', {});
    expect(way).toBe('Signal path: in – C101 – b1 – Q101 – c1 – Q103 – c2 – Q105 – e3 – C113 – o1 – R123 – out.');
    expect(parts[0]).toBe('R101, 100 kΩ: resistor between in and gnd.');
    expect(parts).toContain('Q101, HN-A: npn, collector on c1, base on b1, emitter on e1.');
    expect(parts).toContain('C103, 22 µF: polarised capacitor, plus on leg, minus on gnd.');
    expect(parts.at(-1)).toBe('Shared with the other channels: vq.');
  });

  it('takes no feedback for a way of the signal, however short', () => {
    const { circuit: pair } = boardOf(`board: 1
title: invented pair
rails: { vcc: { volts: 20 V } }
input: { node: b1 }
output: { node: c2 }
parts:
  R1: { kind: resistor, value: 100 kΩ, between: [b1, gnd] }
  Q1: { type: T, collector: c1, base: b1, emitter: e1 }
  R2: { kind: resistor, value: 10 kΩ, between: [vcc, c1] }
  R3: { kind: resistor, value: 1 kΩ, between: [e1, gnd] }
  Q2: { type: T, collector: c2, base: c1, emitter: gnd }
  R4: { kind: resistor, value: 1 kΩ, between: [vcc, c2] }
  R5: { kind: resistor, value: 100 kΩ, between: [c2, e1] }
types: { T: { kind: npn, hFE: 200, VBE: { value: 600 mV, at: 1 mA } } }
`);
    expect(stageDrawingText(pair, 'mono', {})[0]).toBe('Signal path: b1 – Q1 – c1 – Q2 – c2.');
  });

  it('tells bias, and which way a current flows', () => {
    const text = stageDrawingText(circuit, 'left', {
      volts: voltsByNode(stage, 'left'),
      currents: channelBias(stage, 'left'),
    });
    expect(text.find((line) => line.startsWith('Bias: '))).toMatch(/\bc1 3\.01 V\b/);
    // R121 runs from n1 to e1, down from the follower's emitter: the current goes the way it is written.
    expect(text.find((line) => line.startsWith('R121'))).toMatch(/^R121, 22 kΩ, 42\.\d µA:/);
  });

  it('leaves out of the bias what carries none, and says so', () => {
    const text = stageDrawingText(circuit, 'left', { only: { kind: 'dc' } });
    expect(text.at(-1)).toBe('Left out: C101, R111, C103, C105, C107, C109, C111, C113, R123, C115.');
  });

  it('writes reactances at the frequency asked for', () => {
    const text = stageDrawingText(circuit, 'left', { only: { kind: 'ac', hz: 50 } });
    // 1/(2π · 50 Hz · 22 µF) = 144.7 Ω
    expect(text.find((line) => line.startsWith('C103'))).toMatch(/^C103, 145 Ω:/);
  });

  it('refuses a channel that is not there', () => {
    expect(() => stageDrawingText(circuit, 'middle', {})).toThrow(RangeError);
  });
});
