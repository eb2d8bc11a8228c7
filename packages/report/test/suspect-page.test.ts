import type { SuspectAnswer } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { suspectPage } from '../src/index.ts';

/** Invented. */
const answer: SuspectAnswer = {
  answer: 'suspects',
  nothingWrong: 0.02,
  rails: [],
  readings: [
    { name: 'c1@left', unit: 'V', measured: 4.31, normal: 3.02, sigma: 0.12 },
    { name: 'vcc-gnd', unit: 'Ω', measured: 4700, normal: 1.2e6, sigma: 2e5 },
  ],
  heard: [{ what: 'thin', channel: 'left' }],
  suspects: [
    {
      faults: [{ ref: 'C101', others: [], channel: 'left', fault: 'leaky', words: 'leaky', value: 91e3, unit: 'Ω' }],
      probability: 0.7,
      square: 2.2,
      chance: 0.33,
      predicted: [4.29, 4800],
    },
    {
      faults: [{ ref: 'Q101', others: [], channel: 'left', fault: 'low_hFE', words: 'low hFE', value: 31, unit: null }],
      probability: 0.2,
      square: 4,
      chance: 0.14,
      predicted: [4.2, 1.2e6],
    },
  ],
  parts: [
    { ref: 'C101', probability: 0.7 },
    { ref: 'Q101', probability: 0.2 },
  ],
  ties: [['C101', 'Q101']],
  next: [
    {
      kind: 'volts',
      action: 'read the voltage at b1, left',
      where: 'b1@left',
      minutes: 1,
      bits: 0.8,
      bitsPerMinute: 0.8,
      caution: 'probe with care: one slip joins two nodes',
      outcomes: [
        { shows: 'about 1.20 V, as it ought to be', probability: 0.25, points: [{ ref: 'Q101', probability: 0.9 }] },
      ],
    },
  ],
  unknown: [{ ref: 'R101', fault: 'short' }],
  notes: ['No meter is named: readings are taken as exact.'],
};

const options = { title: 'LK 205, thin', state: 'found' as const, width: 100, colour: false };

describe('the page of suspects', () => {
  it('says who is suspected first, with the fitted value and what is left', () => {
    const page = suspectPage(answer, options);
    expect(page).toContain('LK 205, thin, as found: suspects');
    expect(page).toContain('Suspected first: C101 leaky (91 kΩ), 70 %; 2.0 % that nothing is wrong.');
    expect(page).toContain('From 2 readings and what is heard: thin, left.');
    expect(page).toMatch(/20\.0 +Q101 +low hFE +hFE 31 +2\.0/);
    expect(page).toContain('Tied: C101, Q101: these readings cannot tell them apart.');
  });

  it('sets readings beside the healthy board and the predictions', () => {
    const page = suspectPage(answer, options);
    expect(page).toMatch(/c1@left +4\.31 +3\.02 +\+10\.7 +4\.29 +4\.20 +V/);
    expect(page).toMatch(/vcc-gnd +4\.7 k +1\.2 M/);
  });

  it('tells the next step with its cost, its caution and what each outcome means', () => {
    const page = suspectPage(answer, options);
    expect(page).toContain('1. read the voltage at b1, left: 1 min, 0.80 bit. Mind: probe with care');
    expect(page).toContain('· about 1.20 V, as it ought to be (25 %): Q101 90 %');
    expect(page).toContain('Not weighed, for want of a bias: R101 short');
  });

  it('has words for nothing wrong, for no single fault and for a rail that is off', () => {
    expect(suspectPage({ ...answer, answer: 'nothing wrong', nothingWrong: 0.83 }, options)).toContain(
      'Nothing wrong in these readings: 83 %.',
    );
    const [first, second] = answer.suspects;
    const pair = { ...first!, faults: [...first!.faults, ...second!.faults] };
    const words = suspectPage({ ...answer, answer: 'no single fault', suspects: [pair] }, options);
    expect(words.replaceAll('\n', ' ')).toContain(
      'No single fault explains these readings. The likeliest pair: C101 leaky (91 kΩ) and Q101 low hFE (hFE 31).',
    );
    const unlikely = suspectPage(
      { ...answer, answer: 'no single fault', suspects: [{ ...pair, chance: 1e-9 }] },
      options,
    );
    expect(unlikely.replaceAll('\n', ' ')).toContain(
      'and no pair that was tried. Take them again, c1@left first. Nearest: C101',
    );
    const rails = [{ rail: 'vcc', volts: 19, expected: 26, advice: 'correct vcc first' }];
    expect(suspectPage({ ...answer, rails }, options)).toContain(
      'correct vcc first: it reads 19.0 V in place of 26.0 V.',
    );
  });

  it('keeps to the width of the terminal', () => {
    const page = suspectPage(answer, { ...options, width: 60 });
    for (const line of page.split('\n')) expect(line.length).toBeLessThanOrEqual(60);
  });
});
