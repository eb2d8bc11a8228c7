import type { FitAnswer, FitRow, LeadAnswer, LeadFit } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { fitPage, insertionsPage, leadDrawing, stringDrawing } from '../src/index.ts';
import { leadText } from '../src/fit/lead-text.ts';
import { stringText } from '../src/fit/string-text.ts';
import { lineWith, widestOf } from './lines.ts';

const row: FitRow = {
  ...{ what: 'rating', ref: 'C107', channel: 'left', level: 'good', where: 'volts' },
  ...{ value: 3.03, margin: 6.97, unit: 'V', bound: '10 V rated', cause: 'C107: 1.25 × the 2.43 V', next: 'nothing' },
};

const ways: Readonly<Record<LeadFit['how'], LeadFit>> = {
  'as is': { how: 'as is', flat: 'front', standing: 'ECB', inHoles: 'ECB', crossed: [] },
  turned: { how: 'turned', flat: 'back', standing: 'ECB', inHoles: 'ECB', crossed: [] },
  crossed: { how: 'crossed', flat: 'front', standing: 'EBC', inHoles: 'ECB', crossed: ['B', 'C'] },
};

const leads = (...how: LeadFit['how'][]): LeadAnswer => ({
  ...{ ref: 'Q101', typeName: 'HN-D', holes: 'ECB', inHoles: 'ECB' },
  cases: how.map((each) => ({ front: 'ECB', fit: ways[each] })),
  row: { ...row, what: 'leads', ref: 'Q101', cause: 'Q101: HN-D goes in <so>' },
});

const string = {
  ref: 'D103',
  members: [
    { ref: 'D103.1', type: 'DS-A' },
    { ref: 'D103.2', type: 'DS-A' },
  ],
  anode: 'vq',
  cathode: 'gnd',
};

const answer: FitAnswer = {
  verdict: 'fail',
  rows: [
    row,
    { ...row, ref: 'C108', channel: 'right' },
    {
      ...row,
      ref: 'C113',
      what: 'seat',
      where: 'height',
      level: 'fail',
      unit: 'mm',
      value: 14,
      margin: -1,
      bound: '13 mm of room',
      cause: 'C113: too tall by 1 mm',
      next: 'choose a lower part for C113',
    },
    { ...row, ref: 'C115', level: 'not measured', margin: NaN, bound: 'no volts rating' },
  ],
  leads: [leads('turned'), { ...leads('turned'), ref: 'Q102' }],
  strings: [
    {
      ...{ ref: 'D103', wantedV: 1.24, wantedDriftVPerK: -3.9e-3, amps: 1.94e-3 },
      strings: [
        {
          type: 'DS-A',
          count: 2,
          dropV: 1.32,
          amps: 1.9e-3,
          errorV: 0.075,
          driftVPerK: -3.6e-3,
          node: 'c2',
          nodeMv: 540,
          overloadMv: 129,
        },
      ],
    },
  ],
  fitted: [string],
};

describe('the page of fit', () => {
  const page = fitPage(answer, { title: 'invented', state: 'rebuilt', width: 90, colour: false });

  it('puts the two of a pair on one line, with what is to spare', () => {
    expect(lineWith(page, 'C107, C108')).toMatch(/● C107, C108 +rating, volts +3\.03 V +6\.97 V +10 V rated/);
  });

  it('has a dash where nothing is stated, and a sign before what is missing', () => {
    expect(lineWith(page, '– C115')).toMatch(/3\.03 V +– +no volts rating/);
    expect(lineWith(page, '✕ C113')).toMatch(/14\.0 mm +−1\.0 mm +13 mm of room/);
    expect(page).toContain('Next: choose a lower part for C113');
  });

  it('draws leads that go in alike once', () => {
    expect(page.split('the print')).toHaveLength(2);
  });

  it('tells strings of diodes with what follows from them', () => {
    expect(lineWith(page, '2 × DS-A')).toMatch(/1\.32 V +\+75 mV +−3\.6 mV\/K +c2 \+540 mV +129 mV/);
  });

  it.each([60, 80, 110])('keeps to %i cells', (width) => {
    expect(
      widestOf(fitPage(answer, { title: 'invented', state: 'rebuilt', width, colour: false })),
    ).toBeLessThanOrEqual(width);
  });
});

describe('leads as text', () => {
  it('has the flat of a turned case at the back, and its leads straight above their holes', () => {
    expect(leadText(leads('turned'), 80)).toEqual([
      'the print             HN-D',
      '╭───────────╮         ┌───────────┐ flat',
      '│           │         │           │',
      '└───────────┘ flat    ╰───────────╯',
      '  E   C   B             E   C   B',
      '  │   │   │             │   │   │',
      '  │   │   │             │   │   │',
      '  │   │   │             │   │   │',
      '  E   C   B  holes      E   C   B  holes',
    ]);
  });

  it('crosses the two leads that change places', () => {
    const drawn = leadText(leads('crossed'), 80).map((line) => line.slice(22).trimEnd());
    expect(drawn.slice(4)).toEqual(['  E   B   C', '  │    ╲ ╱', '  │     ╳', '  │    ╱ ╲', '  E   C   B  holes']);
  });

  it('draws every case that may be in hand', () => {
    const [heads = ''] = leadText(leads('as is', 'turned'), 80);
    expect(heads.match(/HN-D, ECB/g)).toHaveLength(2);
    const narrow = leadText(leads('as is', 'turned'), 60);
    expect(narrow.filter((line) => line.includes('HN-D, ECB'))).toHaveLength(2);
    expect(widestOf(narrow.join('\n'))).toBeLessThanOrEqual(60);
  });
});

describe('leads as SVG', () => {
  const paths = (svg: string): readonly string[] => [...svg.matchAll(/<path d="([^"]+)"/g)].map(([, d = '']) => d);

  it('says what it shows, in escaped text, without script, style or id', () => {
    const svg = leadDrawing(leads('turned'), { ink: 'page' });
    expect(svg).toContain(
      '<title>Leads of Q101, seen from the component side, printed flat towards the reader</title>',
    );
    expect(svg).toContain('<desc>Q101: HN-D goes in &lt;so&gt;</desc>');
    expect(svg).not.toMatch(/<script|<style| style=| id=/);
  });

  it('draws each lead to its hole: straight, or across', () => {
    const wires = (svg: string): readonly number[] =>
      paths(svg)
        .filter((d) => /^M[\d.]+ 112L/.test(d))
        .map((d) => {
          const [, from, to] = /^M([\d.]+) 112L([\d.]+) 160$/.exec(d)!;
          return Number(to) - Number(from);
        });
    // 44 pixels from lead to lead; first the three of the print.
    expect(wires(leadDrawing(leads('turned'), { ink: 'print' }))).toEqual([0, 0, 0, 0, 0, 0]);
    expect(wires(leadDrawing(leads('crossed'), { ink: 'print' }))).toEqual([0, 0, 0, 0, 44, -44]);
  });

  it('has the straight side of a turned case on top', () => {
    const outlines = (how: LeadFit['how']): readonly string[] =>
      paths(leadDrawing(leads(how), { ink: 'print' })).filter((d) => d.endsWith('Z'));
    const straight = (d = ''): number => Number(/^M[\d.]+ ([\d.]+)L/.exec(d)?.[1]);
    expect(outlines('as is').map(straight)).toEqual([86, 86]);
    expect(outlines('turned').map(straight)).toEqual([86, 30]);
  });
});

describe('a string of diodes', () => {
  it('has every band towards the cathode and a sleeve over every joint', () => {
    expect(stringText(string, 80)[1]).toBe('vq ──┤    ▐├══════┤    ▐├── gnd');
    const long = { ...string, members: Array.from({ length: 8 }, () => string.members[0]!) };
    expect(widestOf(stringText(long, 60).join('\n'))).toBeLessThanOrEqual(60);
    const svg = stringDrawing(string, { ink: 'print' });
    const boxes = [...svg.matchAll(/<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"/g)].map(([, x, width]) => [
      Number(x),
      Number(width),
    ]);
    // Body and band of each, the band in the right half of its body; then the sleeve between the bodies.
    expect(boxes).toEqual([
      [64, 64],
      [112, 8],
      [176, 64],
      [224, 8],
      [132, 40],
    ]);
    expect(svg).toContain('every band towards gnd');
  });
});

describe('the page of wrong insertions', () => {
  const way = (
    inserted: string,
    volts: number,
    gainDb: number | null,
  ): Parameters<typeof insertionsPage>[0]['standing'][number] => ({
    ...{ ref: 'Q101', channel: 'left', holes: 'ECB', inserted, gainDb },
    nodes:
      gainDb === null
        ? []
        : [
            { node: 'c1@left', volts },
            { node: 'vq', volts: 1.2 },
          ],
    points:
      gainDb === null
        ? []
        : [
            { hz: 20, deviationDb: -1 },
            { hz: 10_000, deviationDb: 0.5 },
          ],
  });

  it('has a line for each way, and says where there is no bias', () => {
    const page = insertionsPage(
      { standing: [way('ECB', 3, 36)], positions: [way('BCE', 27.3, 35.7), way('CBE', 0, null)] },
      { title: 'invented', state: 'drawn', width: 90, colour: false },
    );
    expect(lineWith(page, 'ECB as it stands')).toMatch(/3\.00 +1\.20 +\+36\.00 +−1\.00 +\+0\.50/);
    expect(lineWith(page, 'BCE')).toMatch(/27\.3 +1\.20 +\+35\.70/);
    expect(lineWith(page, 'CBE')).toMatch(/CBE no bias +– +– +– +– +–/);
  });
});
