import { describe, expect, it } from 'vitest';
import { effectsOfCouplings, effectsOfParts, effectsOfSwaps, partsActingOn } from '../src/influence-on-figure.ts';
import { contextOf, figureOf, jobWith } from './equaliser-job.ts';

/** dB of the high-pass of C109 with 10 kΩ at a frequency. */
const highPass = (hz: number, microfarads: number, ohms: number = 10e3): number =>
  -10 * Math.log10(1 + (1 / (2 * Math.PI * hz * ohms * microfarads * 1e-6)) ** 2);

const oneMicrofarad = contextOf(jobWith('C109/C110: { fit: { build: film, value: 1 µF } }'));
const bass = figureOf(oneMicrofarad, 'bass');

describe('effectsOfParts', () => {
  it('is what a tenth more does: of the load and of the coupling capacitor the same, which is their closed form', () => {
    const effects = effectsOfParts(bass, oneMicrofarad.probe, oneMicrofarad.variants);
    const re = (microfarads: number): number => highPass(20, microfarads) - highPass(1000, microfarads);
    for (const ref of ['C109', 'R109']) {
      // Closed forms hold to 1e-9 dB, and this is a difference of two.
      expect(effects.find((effect) => effect.ref === ref)!.moves).toBeCloseTo(re(1.1) - re(1), 8);
    }
  });

  it('leaves out what cannot act: the other channel, and what only scales the whole curve', () => {
    const refs = effectsOfParts(bass, oneMicrofarad.probe, oneMicrofarad.variants).map(({ ref }) => ref);
    expect(refs).not.toContain('C110');
    // The input resistor moves the gain of all frequencies alike.
    expect(refs).not.toContain('R101');
    expect(partsActingOn(bass, oneMicrofarad.probe).every(({ channel }) => channel === 'left')).toBe(true);
  });

  it('goes from the greatest down', () => {
    const moves = effectsOfParts(bass, oneMicrofarad.probe, oneMicrofarad.variants).map((effect) =>
      Math.abs(effect.moves),
    );
    expect(moves.length).toBeGreaterThan(3);
    for (let i = 1; i < moves.length; i++) expect(moves[i]!).toBeLessThanOrEqual(moves[i - 1]! * (1 + 1e-5));
  });

  it('keeps twins, which move a balance by the same but for rounding, in the order of the board', () => {
    const balance = figureOf(oneMicrofarad, 'balance', null);
    const refs = effectsOfParts(balance, oneMicrofarad.probe, oneMicrofarad.variants).map(({ ref }) => ref);
    for (const [left, right] of [
      ['C103', 'C104'],
      ['R109', 'R110'],
      ['C109', 'C110'],
    ] as const) {
      expect(refs.indexOf(left)).toBeGreaterThanOrEqual(0);
      expect(refs.indexOf(left)).toBeLessThan(refs.indexOf(right));
    }
  });
});

describe('effectsOfSwaps', () => {
  const both = contextOf(
    jobWith(`
    C109/C110: { fit: { build: film, value: 1 µF } }
    R109/R110: { fit: { value: 22 kΩ } }`),
  );

  it('is the figure as it is less the figure with the position as drawn', () => {
    const figure = figureOf(both, 'bass');
    const effects = effectsOfSwaps(figure, both.probe, ['R109', 'C109'], both.variants);
    const re = (microfarads: number, ohms: number): number =>
      highPass(20, microfarads, ohms) - highPass(1000, microfarads, ohms);
    expect(effects.map(({ ref }) => ref)).toEqual(['R109', 'C109']);
    expect(effects[0]!.moves).toBeCloseTo(re(1, 22e3) - re(1, 10e3), 8);
    expect(effects[1]!.moves).toBeCloseTo(re(1, 22e3) - re(4.7, 22e3), 8);
  });

  it('does not list positions of the other channel', () => {
    const refs = effectsOfSwaps(figureOf(both, 'bass'), both.probe, ['C109', 'C110'], both.variants).map(
      ({ ref }) => ref,
    );
    expect(refs).toEqual(['C109']);
  });
});

describe('effectsOfCouplings', () => {
  it('lists in the bass the capacitors that are links at 1 kHz, not those that shape the curve', () => {
    const refs = effectsOfCouplings(bass, oneMicrofarad.probe, oneMicrofarad.variants).map(({ ref }) => ref);
    expect(refs).toEqual(['C109']);
  });

  it('lists none for a figure of the treble', () => {
    const treble = figureOf(oneMicrofarad, 'treble');
    expect(effectsOfCouplings(treble, oneMicrofarad.probe, oneMicrofarad.variants)).toEqual([]);
  });
});

describe('variants', () => {
  it('solve each variation once and keep it', () => {
    const { variants } = oneMicrofarad;
    expect(variants.raised('C109')).toBe(variants.raised('C109'));
    const [c109, c110] = ['C109', 'C110'].map((ref) =>
      oneMicrofarad.probe.stage.circuit.parts.find((part) => part.ref === ref)!,
    );
    // A part and its twin at a value make one stage, whichever is asked.
    expect(variants.withTwinsAt(c109!, 2.2e-6)).toBe(variants.withTwinsAt(c110!, 2.2e-6));
  });

  it('have nothing to raise in a part without a value', () => {
    expect(oneMicrofarad.variants.raised('U101A')).toBeNull();
  });

  it('put a position back as drawn, in place, with the whole of what was fitted taken out', () => {
    const pair = contextOf(jobWith('C109: { fit: { parallel: [{ value: 1 µF }, { value: 2.2 µF }] } }'));
    const restored = pair.variants.restored('C109')!.stage.circuit.parts;
    const drawn = pair.drawn!.stage.circuit.parts;
    expect(restored.map(({ ref }) => ref)).toEqual(drawn.map(({ ref }) => ref));
    const empty = contextOf(jobWith('C105: { fit: none }'));
    expect(empty.variants.restored('C105')!.stage.circuit.parts.map(({ ref }) => ref)).toContain('C105');
  });
});
