import type { Capacitor } from '@curvewright/board';
import { readQuantity } from '@curvewright/quantity';
import { describe, expect, it } from 'vitest';
import { cornerOf } from '../src/capacitor-corner.ts';
import { causeOf } from '../src/cause.ts';
import type { CauseContext } from '../src/cause-search.ts';
import { contextOf, figureOf, jobWith } from './equaliser-job.ts';

const quantityIn = (text: string, unit: Parameters<typeof readQuantity>[1]): number => {
  const reading = readQuantity(text, unit);
  if (!reading.ok) throw new Error(text);
  return reading.value;
};

const swapped = contextOf(jobWith('C109/C110: { fit: { build: aluminium, value: 1 µF } }'));
const cause = (
  context: CauseContext,
  ...which: [Parameters<typeof figureOf>[1], (number | null)?]
): ReturnType<typeof causeOf> => causeOf(figureOf(context, ...which), context);

describe('causeOf', () => {
  it('names the swap, what it moves, the corner it makes, and the value that mends it at both twins', () => {
    const { ref, cause: text, next } = cause(swapped, 'deviation');
    expect(ref).toBe('C109');
    const told =
      /^C109 \(1 µF for 4\.7 µF\) moves it by −([\d.]+) dB; C109: 1 µF equals the (.+Ω) around it at (.+Hz) and costs ([\d.]+) dB at 30 Hz; 2\.2 µF at C109 and C110 leaves −([\d.]+) dB$/.exec(
        text,
      );
    expect(told, text).not.toBeNull();
    const [, moves, ohms, hz, costs, leaves] = told!;
    // Closed form of the high-pass re 1 kHz at 30 Hz, as printed.
    const loses = (microfarads: number): number => {
      const at = (f: number): number => 10 * Math.log10(1 + (1 / (2 * Math.PI * f * 1e4 * microfarads * 1e-6)) ** 2);
      return at(30) - at(1000);
    };
    expect(moves).toBe((loses(1) - loses(4.7)).toFixed(2));
    expect(costs).toBe(loses(1).toFixed(1));
    expect(leaves).toBe(loses(2.2).toFixed(2));
    // Printed to three digits each, so the product is good to 1 %.
    expect(quantityIn(ohms!, 'Ω') * 1e-6 * 2 * Math.PI * quantityIn(hz!, 'Hz')).toBeCloseTo(1, 1.9);
    // Nothing stands across it: the lowest rating serves, and the drawing says which side is plus.
    expect(next).toBe('fit 2.2 µF, 6.3 V or more, plus to o, at C109 and C110');
  });

  it('makes ohms × farads × 2π × hz one within 0.1 % before it prints them', () => {
    const part = swapped.probe.stage.circuit.parts.find((each): each is Capacitor => each.ref === 'C109')!;
    const { ohms, hz } = cornerOf(swapped.probe.stage, part)!;
    expect(Math.abs(ohms * part.farads * 2 * Math.PI * hz - 1)).toBeLessThan(1e-3);
  });

  it('says without a remedy what to do, in the state that the verdict does not rest on', () => {
    const found: CauseContext = { ...swapped, seekRemedy: false };
    const { cause: text, next } = cause(found, 'deviation');
    expect(text).toMatch(/^C109 \(1 µF for 4\.7 µF\) moves it by −\d\.\d\d dB$/);
    expect(next).toBe('replace C109, or see what the rebuilt state makes of it');
  });

  it('says of a good figure what matters most, and to change nothing', () => {
    const { ref, cause: text, next } = cause(contextOf(jobWith()), 'treble');
    expect(ref).toMatch(/^[RC]10[3-6]$/);
    expect(text).toMatch(new RegExp(`^${ref}: .+ matters most: a tenth more moves it by [+−]0\\.\\d\\d dB$`));
    expect(next).toBe('no change needed');
  });

  it('describes a swap by all that differs where the value is not what matters', () => {
    const leaky = contextOf(
      jobWith(`
      C109: { fit: { value: 4.7 µF, leakage: 100 kΩ } }
      U101A: { fit: { type: OA } }`),
    );
    // The op-amp's output is at 0 V, so nothing leaks: nothing is told of the swap.
    expect(cause(leaky, 'output_dc').cause).toBe('no part of this channel moves it');
  });

  it('names a part that acts on the figure even where nothing moves it', () => {
    const context = contextOf(jobWith());
    expect(cause(context, 'output_dc', 1).ref).toBe('R102');
  });

  it('does not blame a swap that helps', () => {
    const better = contextOf(
      jobWith(`
      C109/C110: { fit: { value: 0.47 µF } }
      R109/R110: { fit: { value: 15 kΩ } }`),
    );
    expect(cause(better, 'bass').cause).not.toMatch(/R109 \(/);
    expect(cause(better, 'bass').cause).toMatch(/^C109 \(0\.47 µF for 4\.7 µF\)/);
  });

  it('says of which parts no value mends it where none does', () => {
    const broken = contextOf(
      jobWith(`
      C103/C104: { fit: { value: 1 nF } }
      R105/R106: { fit: { value: 1 kΩ } }`),
    );
    expect(cause(broken, 'deviation').next).toMatch(
      /^measure C103 and its neighbours: no other preferred value of C103, .+ or \S+ alone mends it$/,
    );
  });

  it('sends back to the drawing where that alone mends a swap', () => {
    const contact = contextOf(jobWith('C109: { pulled: { contact: 20 kΩ, lead: plus } }'));
    const gain = figureOf(contact, 'gain');
    const { cause: text, next } = cause(contact, 'gain');
    expect(text).toMatch(/^C109 \(20 kΩ in the contact of plus\) moves it by −[\d.]+ dB/);
    // 20 kΩ before 10 kΩ: a third is left.
    expect(gain.value).toBeCloseTo(20 * Math.log10(1 / 3), 1);
    expect(next).toBe('put C109 back as drawn: that leaves +0.00 dB');
  });
});
