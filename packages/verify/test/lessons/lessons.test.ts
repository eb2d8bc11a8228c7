import {
  audibleNoise,
  cornerLesson,
  diodeLesson,
  hissLesson,
  humAnswer,
  leadsLesson,
  legLesson,
  lessonCard,
  lessonIds,
  lossLesson,
  noiseAnswer,
  offeredLessons,
  transistorLesson,
  zeroLesson,
} from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { seedBench } from './seed-bench.ts';

const names = ['lk205', 'lk310', 'lk417', 'lk520', 'lk630'] as const;
const benches = new Map(names.map((name) => [name, seedBench(name)]));
const bench = (name: (typeof names)[number]): ReturnType<typeof seedBench> => benches.get(name)!;

describe('the parts that lessons are about, found by what they do', () => {
  it('tells a capacitor in the feedback leg from a bypass', () => {
    // As the heads of the seed files describe the boards: two have a leg electrolytic, three have none, and C103 and C101 are bypasses.
    const legs = names.map((name) => legLesson(bench(name))?.ref ?? null);
    expect(legs).toEqual([null, null, 'C103', null, 'C103']);
  });

  it('offers each board what it has the parts for', () => {
    expect(names.map((name) => offeredLessons(bench(name)))).toEqual([
      ['corner', 'losses', 'transistor', 'leads', 'hiss', 'zero'],
      ['corner', 'losses', 'hiss', 'zero'],
      [...lessonIds],
      ['corner', 'losses', 'transistor', 'leads', 'hiss', 'zero'],
      ['leg', 'corner', 'hiss', 'zero'],
    ]);
  });
});

describe('one capacitor, two jobs', () => {
  it('amplifies DC by the leg with the capacitor out, as the resistors say', () => {
    const lesson = legLesson(bench('lk630'))!;
    // 1 + (R105 + R107) / (R103 + what C103 leaks): 274k, 22.6k, 470 Ω and 500 kΩ. The rest is C103 itself, 1.6 MΩ at the 1 mHz asked.
    expect(lesson.dcGain).toBeCloseTo(1 + 296_600 / 500_470, 1);
    // With a wire 1 + 296.6k / 470 Ω, less 1 % for an op-amp of 100 dB.
    expect(lesson.dcGainShorted / (1 + 296_600 / 470)).toBeCloseTo(1, 1);
    expect(Math.abs(lesson.dcGainShorted / (1 + 296_600 / 470) - 1)).toBeLessThan(0.02);
  });

  it('moves corner and bass together, and more than enough only slows', () => {
    for (const name of ['lk417', 'lk630'] as const) {
      const { values, enough, drawn } = legLesson(bench(name))!;
      for (const [n, { cornerHz, at20HzDb, slowestS }] of values.entries()) {
        const before = values[n - 1];
        if (before === undefined) continue;
        // Null: below what is looked through.
        if (before.cornerHz !== null) expect(cornerHz ?? 0).toBeLessThan(before.cornerHz);
        else expect(cornerHz).toBeNull();
        expect(at20HzDb).toBeGreaterThan(before.at20HzDb);
        // The slowest may be another part's: then it stays, to the eigenvalues' rounding.
        expect(slowestS!).toBeGreaterThan(before.slowestS! * (1 - 1e-4));
      }
      expect(values.at(-1)!.at20HzDb - values[enough]!.at20HzDb).toBeLessThan(0.1);
      expect(values.at(-1)!.at20HzDb - values[enough - 1]!.at20HzDb).toBeGreaterThanOrEqual(0.1);
      expect(enough).toBeGreaterThan(drawn);
    }
  });

  it('has the corner of R and C where nothing else comes into it', () => {
    const { values } = legLesson(bench('lk630'))!;
    // Feedback far larger than the leg: the gain goes as 1 / |R + tan δ·X − jX|, X = 1/ωC, R = 470 Ω + 1 Ω of ESR, tan δ = 0.08. 3 dB
    // are lost where (1 + 0.08x)² + x² = 2 for x = X/R, x = 0.920. The op-amp's own gain and the leakage take 1 % more.
    const x = 0.92;
    for (const { farads, cornerHz } of values.slice(0, 6)) {
      expect(Math.abs(cornerHz! * 2 * Math.PI * 471 * farads * x - 1)).toBeLessThan(0.02);
    }
  });
});

describe('what the other lessons say', () => {
  it('a formula is right on an op-amp and wrong in a bias loop', () => {
    const { values, asked } = cornerLesson(bench('lk205'))!;
    // The head of that file: 10 Hz from +0.4 dB at 3.3 µF to +4.8 dB at 0.33 µF.
    expect(values.find(({ farads }) => Math.abs(farads - 0.33e-6) < 1e-12)!.boardAt10Db).toBeCloseTo(4.8, 1);
    expect(values[asked]!.textbookAt10Db).toBeLessThan(0);
    const calm = cornerLesson(bench('lk630'))!;
    expect(Math.abs(calm.values[calm.asked]!.boardAt10Db - calm.values[calm.asked]!.textbookAt10Db)).toBeLessThan(0.5);
  });

  it('leakage moves the bias, ESR does not', () => {
    const { asked, esr, drawnV } = lossLesson(bench('lk417'))!;
    expect(Math.abs(asked.volts - drawnV)).toBeGreaterThan(1);
    // To the bias solver's own tolerance: no DC flows through what only ESR is in series with.
    for (const { volts } of esr) expect(volts).toBeCloseTo(drawnV, 6);
  });

  it('hFE moves the bias, not the gain', () => {
    const { at1kHzDb, halvedAt1kHzDb, nodeMoveV } = transistorLesson(bench('lk417'))!;
    expect(Math.abs(halvedAt1kHzDb - at1kHzDb)).toBeLessThan(0.1);
    expect(Math.abs(nodeMoveV)).toBeGreaterThan(0.1);
  });

  it('two ordinary diodes stand for the double one; one would shift the stage', () => {
    const { nearest, strings, volts } = diodeLesson(bench('lk417'))!;
    expect(nearest).toBe(2);
    expect(Math.abs(strings[1]!.volts - volts)).toBeLessThan(0.1);
    expect(Math.abs(strings[0]!.moveV)).toBeGreaterThan(5 * Math.abs(strings[1]!.moveV));
  });

  it('a part with its leads the other way round is turned, and as it is does harm', () => {
    const { fit, wrong } = leadsLesson(bench('lk417'))!;
    expect(fit.how).toBe('turned');
    expect(wrong!.gainDb).toBeLessThan(-20);
  });

  it('shares of the hiss are those of the noise answer', () => {
    const { makers, withoutFirstDb } = hissLesson(bench('lk417'))!;
    expect(makers[0]!.share).toBeGreaterThan(makers[1]!.share);
    expect(withoutFirstDb).toBeCloseTo(10 * Math.log10(1 - makers[0]!.share), 12);
  });

  it('the extra zero is where the curve asks for a gain of one, and C113 takes it back', () => {
    const { bareAt100kDb, textbookDb, drawnAt100kDb, ref } = zeroLesson(bench('lk630'))!;
    expect(ref).toBe('C113');
    // The op-amp's 8 MHz cost a little of it.
    expect(Math.abs(bareAt100kDb - textbookDb)).toBeLessThan(0.25);
    expect(Math.abs(drawnAt100kDb)).toBeLessThan(0.25);
  });
});

describe('fault cards', () => {
  for (const name of names) {
    it(`${name}: can be solved with as few measurements as they say, and not with fewer`, { timeout: 120_000 }, () => {
      for (const id of offeredLessons(bench(name))) {
        const card = lessonCard(bench(name), id, null);
        expect(card, id).not.toBeNull();
        const { suspects, answer, fewest, measurements } = card!;
        const truth = suspects[answer]!;
        const others = suspects.filter((each) => each !== truth);
        expect(others.length).toBeGreaterThan(0);
        const tells = (chosen: readonly number[]): boolean =>
          others.every(({ changes }) => chosen.some((m) => changes[m] !== truth.changes[m]));
        const all = measurements.map((_, m) => m);
        const sets = (size: number): readonly (readonly number[])[] =>
          size === 0
            ? [[]]
            : sets(size - 1).flatMap((set) => all.filter((m) => m > (set.at(-1) ?? -1)).map((m) => [...set, m]));
        expect(sets(fewest).some(tells)).toBe(true);
        expect(sets(fewest - 1).some(tells)).toBe(false);
      }
    });
  }

  it('has the lesson’s own part at fault where that shows', () => {
    const { suspects, answer } = lessonCard(bench('lk417'), 'leg', 'C103')!;
    expect(suspects[answer]).toMatchObject({ ref: 'C103', fault: 'dried' });
  });
});

describe('noise that can be heard', () => {
  it('is that of the noise and hum answers', () => {
    for (const name of names) {
      const { stage } = bench(name);
      const noise = noiseAnswer(stage);
      const hum = humAnswer(stage);
      audibleNoise(stage).forEach((channel, c) => {
        let power = 0;
        const { hiss } = channel;
        for (let n = 1; n < hiss.length; n++) {
          const [low, high] = [hiss[n - 1]!, hiss[n]!];
          const [from, to] = [Math.max(20, low.hz), Math.min(20_000, high.hz)];
          if (to > from) power += ((low.ratio ** 2 + high.ratio ** 2) / 2) * (to - from);
        }
        // Trapezoids over a grid of 12 a decade, of a density that falls with the square of frequency.
        expect(Math.abs(-10 * Math.log10(power) - noise.channels[c]!.snrDb)).toBeLessThan(0.2);
        const whole = 20 * Math.log10(Math.hypot(...channel.hum.map(({ ratio }) => ratio)));
        expect(whole).toBeCloseTo(hum.channels[c]!.humDb!, 9);
      });
    }
  });
});
