import { describe, expect, it } from 'vitest';
import { withChoices } from '../../src/choose/choice-place.ts';
import { figuresOf } from '../../src/figure.ts';
import { furtherReader } from '../../src/further-answers.ts';
import { levelOf, type Judged } from '../../src/judge.ts';
import { probeOf } from '../stages.ts';
import { choosing, demoDrawer, demoJob } from './choosing.ts';

const { places, setting } = choosing(demoJob(), demoDrawer);
const further = furtherReader(setting.loops, setting.limits);

/** The figures that a trial judges, read off the same stage compiled and solved from nothing. */
function solvedAnew(choices: Parameters<typeof setting.try>[0]): readonly Judged[] {
  const probe = probeOf(withChoices(setting.base.stage.circuit, choices));
  const line = (what: 'hum' | 'crosstalk', values: readonly (number | null)[]): readonly Judged[] =>
    values.flatMap((value, channel): readonly Judged[] => {
      const side = what === 'hum' ? 'at most' : 'at least';
      const { good, look } = setting.limits[what];
      return value === null ? [] : [{ what, channel, value, unit: 'dB', side, good, look, hz: null, where: '' }];
    });
  return [
    ...figuresOf(probe, setting.limits, setting.drawn),
    ...line('hum', further.hum(probe)),
    ...line('crosstalk', further.separation(probe)),
  ];
}

/**
 * The bands' extremes stand between the sweep's 32 points a decade: a peak of Q 2 is read to 0.02 dB there, and the losses that a silent part
 * is given move nothing by 0.001 dB.
 */
const tolerance: Partial<Record<Judged['what'], number>> = {
  node_volts: 0.01,
  output_dc: 0.01,
  input_resistance: 0.01,
};

describe('a trial on the live board against the stage solved anew', { timeout: 60_000 }, () => {
  it.each(places.map((place) => [place.refs.join('/'), place] as const))('at %s', (_, place) => {
    const candidates = setting.candidates(place).filter(({ parts }) => parts.length > 0);
    for (const candidate of candidates.slice(0, 30)) {
      const trial = setting.try([candidate])!;
      const anew = solvedAnew([candidate]);
      const open = anew.filter((figure) => levelOf(figure) !== 'good');
      const seen = (figures: readonly Judged[]): readonly string[] =>
        figures
          .filter(({ value, good, what }) => Math.abs(Math.abs(value) - Math.abs(good)) > (tolerance[what] ?? 0.02))
          .map(({ what, channel, where }) => `${what} ${channel} ${what === 'node_volts' ? where : ''}`)
          .sort();
      expect(seen(trial.open)).toEqual(seen(open));
      for (const figure of trial.open) {
        const same = open.find(
          ({ what, channel, where }) =>
            what === figure.what && channel === figure.channel && (what !== 'node_volts' || where === figure.where),
        );
        if (same === undefined) continue;
        expect(Math.abs(same.value - figure.value)).toBeLessThan(tolerance[figure.what] ?? 0.02);
      }
    }
  });

  it('with several places changed at once, and put back after', () => {
    const [first, , third] = places.map((place) => setting.candidates(place)[0]!);
    const both = [first!, third!];
    const trial = setting.try(both)!;
    const worst = (figures: readonly Judged[]): number => figures.find(({ what }) => what === 'deviation')?.value ?? 0;
    expect(worst(trial.open)).toBeCloseTo(worst(solvedAnew(both).filter((each) => levelOf(each) !== 'good')), 1);
    // What was written for both does not stay for the next.
    const { setting: fresh } = choosing(demoJob(), demoDrawer);
    const next = setting.candidates(places[3]!).at(-1)!;
    const [after, alone] = [setting.try([next])!, fresh.try([next])!];
    expect([after.margin, after.change, after.level]).toEqual([alone.margin, alone.change, alone.level]);
  });
});
