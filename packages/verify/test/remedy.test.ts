import { circuitWithValue, type Part } from '@curvewright/board';
import { preferredBelow } from '@curvewright/quantity';
import { describe, expect, it } from 'vitest';
import type { CauseContext } from '../src/cause-search.ts';
import { figuresOf, type Figure } from '../src/figure.ts';
import { levelOf } from '../src/index.ts';
import { bestRemedy } from '../src/remedy.ts';
import { contextOf, figureOf, jobWith } from './equaliser-job.ts';
import { probeOf } from './stages.ts';

const partOf = ({ probe }: CauseContext, ref: string): Part =>
  probe.stage.circuit.parts.find((part) => part.ref === ref)!;

/** The figures of a circuit with a value in these places, solved from nothing. */
function solvedAnew(context: CauseContext, refs: readonly string[], value: number): readonly Figure[] {
  const circuit = refs.reduce((before, ref) => circuitWithValue(before, ref, value), context.probe.stage.circuit);
  return figuresOf(probeOf(circuit), context.limits, context.drawn);
}

describe('bestRemedy', () => {
  const aluminium = contextOf(jobWith('C109/C110: { fit: { build: aluminium, value: 1 µF } }'));
  const film = contextOf(jobWith('C109/C110: { fit: { build: film, value: 1 µF } }'));

  it('is the nearest value of the series in which such a part is sold', () => {
    const remedy = (context: CauseContext): number =>
      bestRemedy([partOf(context, 'C109')], figureOf(context, 'deviation'), context)!.value;
    // 30 Hz loses 0.51 dB with 1.5 µF, 0.36 dB with 1.8 µF, 0.25 dB with 2.2 µF: 10 log(1 + (fc/f)²).
    expect(remedy(aluminium)).toBeCloseTo(2.2e-6, 15);
    expect(remedy(film)).toBeCloseTo(1.8e-6, 15);
  });

  it('holds when the part and its twin are solved anew with it, and makes no other figure worse', () => {
    for (const what of ['deviation', 'bass'] as const) {
      const figure = figureOf(film, what);
      expect(levelOf(figure)).not.toBe('good');
      const { value, leaves } = bestRemedy([partOf(film, 'C109')], figure, film)!;
      const anew = solvedAnew(film, ['C109', 'C110'], value);
      const same = figureOf({ figures: anew }, what);
      expect(levelOf(same)).toBe('good');
      expect(leaves).toBeCloseTo(same.value, 9);
      // Both channels are mended: one alone would fail the balance.
      expect(levelOf(figureOf({ figures: anew }, what, 1))).toBe('good');
      anew.forEach((each, i) => {
        const ranks = ['good', 'look', 'not measured', 'fail'];
        expect(ranks.indexOf(levelOf(each))).toBeLessThanOrEqual(ranks.indexOf(levelOf(film.figures[i]!)));
      });
    }
  });

  it('names the smallest step: the value of the series before it does not do', () => {
    const figure = figureOf(film, 'deviation');
    const { value } = bestRemedy([partOf(film, 'C109')], figure, film)!;
    const before = solvedAnew(film, ['C109', 'C110'], preferredBelow(value / 1.001, 'E12'));
    expect(levelOf(figureOf({ figures: before }, 'deviation'))).not.toBe('good');
  });

  it('prefers among parts the one with the fewest steps', () => {
    const figure = figureOf(aluminium, 'deviation');
    const remedy = bestRemedy([partOf(aluminium, 'R109'), partOf(aluminium, 'C109')], figure, aluminium)!;
    expect([remedy.part.ref, remedy.steps]).toEqual(['C109', 2]);
  });

  it('mends a single channel where the twin has another value', () => {
    const one = contextOf(jobWith('C109: { fit: { build: aluminium, value: 1 µF } }'));
    const remedy = bestRemedy([partOf(one, 'C109')], figureOf(one, 'deviation'), one)!;
    const anew = solvedAnew(one, ['C109'], remedy.value);
    expect(levelOf(figureOf({ figures: anew }, 'deviation'))).toBe('good');
    expect(remedy.leaves).toBeCloseTo(figureOf({ figures: anew }, 'deviation').value, 9);
  });

  it('is null where what mends the figure would spoil another', () => {
    // 33 kΩ for 27 kΩ takes 1.74 dB of gain; more in the arm gives it back and bends the curve.
    const quiet = contextOf(jobWith('R101/R102: { fit: { value: 33 kΩ } }'));
    const gain = figureOf(quiet, 'gain');
    expect(levelOf(gain)).toBe('look');
    const arm = partOf(quiet, 'R105');
    const mended = [27e3, 30e3, 33e3, 36e3, 39e3].filter(
      (ohms) => levelOf(gain, gain.search(quiet.variants.withTwinsAt(arm, ohms)!)) === 'good',
    );
    expect(mended).not.toEqual([]);
    expect(bestRemedy([arm], gain, quiet)).toBeNull();
    expect(bestRemedy([partOf(quiet, 'R101')], gain, quiet)!.value).toBeCloseTo(30e3, 6);
  });

  it('has nothing to offer for a part without a value', () => {
    expect(bestRemedy([partOf(film, 'U101A')], figureOf(film, 'deviation'), film)).toBeNull();
  });
});
