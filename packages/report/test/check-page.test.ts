import fc from 'fast-check';
import { mergeLimits } from '@curvewright/board';
import type { CheckAnswer, Finding } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { checkPage } from '../src/index.ts';
import { inventedAnswer, inventedFinding, inventedState } from './invented-answer.ts';
import { hasColour, lineWith, widestOf, withoutColour } from './lines.ts';

const plain = { width: 80, colour: false };
const page = checkPage(inventedAnswer(), plain);

describe('the page of a job', () => {
  it('opens with the title, the verdict and what it counts', () => {
    expect(page.split('\n')[0]).toMatch(/^Larkfield LK 417, pops in the/);
    expect(page).toContain('✕ fail   1 outside the limits · 2 to look at');
  });

  it('tells a good verdict by the number of figures that are inside', () => {
    const { drawn } = inventedAnswer().states;
    const answer = {
      ...inventedAnswer(),
      states: { drawn, found: null, rebuilt: null, measured: null },
      findings: [inventedFinding({ state: 'drawn' }), inventedFinding({ state: 'drawn', channel: 'right' })],
      effects: [],
      verdict: 'good' as const,
    };
    expect(checkPage(answer, plain)).toContain('● good   2 figures inside their limits');
  });

  it.each([60, 80, 100, 110, 200])('keeps to a width of %i, and to 110 at most', (width) => {
    const text = checkPage(inventedAnswer(), { width, colour: false });
    expect(widestOf(text)).toBe(Math.min(width, 110));
  });

  it('has escape codes in colour only, and the same words either way', () => {
    for (const width of [80, 110]) {
      const coloured = checkPage(inventedAnswer(), { width, colour: true });
      expect(hasColour(coloured)).toBe(true);
      const bare = checkPage(inventedAnswer(), { width, colour: false });
      expect(hasColour(bare)).toBe(false);
      const lines = (text: string): string[] => text.split('\n').map((line) => line.trimEnd());
      expect(lines(withoutColour(coloured))).toEqual(lines(bare));
    }
  });

  it('lets no control character of a file through', () => {
    const answer = { ...inventedAnswer(), title: 'a\u001b[31mred\u0007\nsecond line\u202e' };
    const text = checkPage(answer, plain);
    expect(hasColour(text)).toBe(false);
    for (const character of ['\u0007', '\u202e']) expect(text).not.toContain(character);
    expect(text.split('\n')[0]).toContain('second line');
  });

  it('marks each figure with the verdict on it, channel by channel', () => {
    expect(page).toMatch(/^20 Hz .* dB ▲ ▲$/m);
    expect(page).toMatch(/^20 kHz .* dB ● ●$/m);
    expect(page).toMatch(/^50 Hz .* dB$/m);
  });

  it('sets the numbers of a figure under one another at the decimal point', () => {
    const rows = ['gain 1 kHz', 'worst deviation', '100 Hz   ', '10 kHz   '].map((label) => lineWith(page, label));
    const points = rows.map((row) => [...row.matchAll(/\./g)].map(({ index }) => index));
    expect(points[0]).toHaveLength(6);
    for (const row of points) expect(row).toEqual(points[0]);
  });

  it('joins neighbours that read alike and names a position without a bias', () => {
    expect(lineWith(page, 'C103 C104')).toMatch(/\+0\.08 +0\.00 +0\.00 +\+0\.11 +c1 +−15 mV$/);
    expect(lineWith(page, 'Q101  ')).toMatch(/– +– +– +– +no bias$/);
  });

  it('lists the nodes that the work moves, and names those that stay', () => {
    expect(lineWith(page, 'c1           ')).toMatch(/^c1 +3\.79 +3\.40 +−390 mV +3\.79 +3\.40 +−390 mV$/);
    expect(lineWith(page, 'D103.1-2')).toMatch(/– +0\.660 +–/);
    expect(page).toContain('bias stays within 1 %: b1, out, vcc');
  });

  it('shows every node of a board that has no job', () => {
    const { drawn } = inventedAnswer().states;
    const states = { drawn, found: null, rebuilt: null, measured: null };
    const text = checkPage({ ...inventedAnswer(), states, effects: [], findings: [] }, plain);
    for (const node of ['b1', 'c1', 'out', 'vcc']) expect(text).toMatch(new RegExp(`^${node} +\\d`, 'm'));
    expect(text).not.toContain('rebuilt');
  });

  it('shows the bias of transistors drawn and now, twins that read alike on one line, and no diodes', () => {
    expect(lineWith(page, 'Q101 Q102')).toMatch(/^Q101 Q102 +75 µA +75 µA +2\.36 +2\.36 +0\.540 +0\.540$/);
    expect(lineWith(page, 'VBE')).toContain('IC drawn');
    expect(page).not.toMatch(/^D101/m);
  });

  it('names the channel of the chart: the one that is furthest off in any state', () => {
    expect(page).toContain('Deviation from the RIAA curve, right, the channel further off');
  });

  it('shows both channels of a pair where there is room beside the table', () => {
    const wide = checkPage(inventedAnswer(), { width: 110, colour: false });
    expect(wide).toMatch(/^Fig\. 1 {2}Deviation from the RIAA curve, left +│ what it does/m);
    expect(wide).toMatch(/^Fig\. 2 {2}Deviation from the RIAA curve, right +│/m);
    const bars = wide.split('\n').flatMap((line) => (line.includes(' │ ') ? [line.lastIndexOf(' │ ')] : []));
    expect(new Set(bars).size).toBe(1);
  });

  it('says what it leans on and what it cannot say', () => {
    expect(page).toContain('As found, taken as drawn: R101–R103, Q101, D103');
    expect(page).toContain('Taken as ideal: no leakage (C105–C107, C110)');
    expect(page).toContain('Also changed: R140, 10 Ω, added');
    expect(page).toContain('Note: C102: noisy; kept, not computed');
    expect(page).toContain('nothing was measured');
    expect(page).not.toContain('Over 60 V');
  });

  it('adds a caution where a node stands above 60 V', () => {
    const answer = inventedAnswer();
    const drawn = inventedState(answer.channels, () => 0, { a: 185, vcc: 265 });
    const text = checkPage({ ...answer, states: { ...answer.states, drawn } }, plain);
    expect(text.replace(/\s+/g, ' ')).toContain('Over 60 V on this board');
  });

  it('tells why a found state has no bias', () => {
    const answer = inventedAnswer();
    const place = { file: 'a.job.yaml', line: 12, column: 5 };
    const unsolved = [{ code: 'no-bias' as const, place, message: 'no bias at node c1' }];
    const text = checkPage({ ...answer, states: { ...answer.states, found: null }, unsolved }, plain);
    expect(text).toContain('a.job.yaml:12:5: no bias at node c1');
    expect(text).not.toContain('╌╌╌╌ found');
  });

  it('speaks plainly', () => {
    expect(page).not.toMatch(/\b(error|invalid|please)\b/i);
  });
});

describe('findings', () => {
  const fail = page.indexOf('✕ fail  bias, right, node c1: −31.4 %, 21.4 % outside ±10 %');
  const look = page.indexOf('▲ look  bass, left and right, at 20 Hz: −1.92 dB, 0.42 dB outside −1.5 dB');

  it('come in full where they are not good, the worst first, with cause and next step', () => {
    expect(fail).toBeGreaterThan(0);
    expect(look).toBeGreaterThan(fail);
    expect(page).toContain('Q102 (HN-B instead of HN-A) moves it by −30.1 %.');
    expect(page).toContain('  Next: measure the voltages at Q102.');
  });

  it('stand together where they differ in channel and designator only', () => {
    expect(page).toContain('C103: 22 µF costs 1.9 dB at 20 Hz. The same for C104, right.');
    expect(page).toMatch(/Next: fit 47 µF at C103\.\n {2}Next: fit 47 µF at C104\./);
  });

  it('name the same work once', () => {
    const answer = inventedAnswer();
    const [first, second] = answer.findings as [Finding, Finding];
    const findings = [
      { ...first, next: 'fit 47 µF at C103 and C104' },
      { ...second, next: 'fit 47 µF at C104 and C103' },
    ];
    expect(checkPage({ ...answer, findings }, plain).match(/Next:/g)).toHaveLength(1);
  });

  it('stay apart where cause or value differ', () => {
    const answer = inventedAnswer();
    const [first, second] = answer.findings as [Finding, Finding];
    const apart = (other: Partial<Finding>): string =>
      checkPage({ ...answer, findings: [first, { ...second, ...other }] }, plain);
    for (const other of [{ cause: 'C104: 8.2 µF costs 3.1 dB' }, { value: -1.95, margin: -0.45 }]) {
      expect(apart(other)).toContain('▲ look  bass, left, at 20 Hz');
      expect(apart(other)).toContain('▲ look  bass, right, at 20 Hz');
    }
  });

  it('take a line a limit where they are good, with the tightest margin', () => {
    expect(lineWith(page, '● treble')).toMatch(/L \+0\.30, R \+0\.25 dB at 20 kHz +0\.70 dB inside ±1 dB$/);
    expect(lineWith(page, '● balance')).toMatch(/\+0\.12 dB left over right at 30 Hz +0\.38 dB inside ±0\.5 dB$/);
  });

  it('of other states are context', () => {
    expect(page).toContain('As found, for comparison: nothing good');
    expect(lineWith(page, 'most by C104')).toMatch(/^✕ bass, right, at 20 Hz +−5\.64 dB/);
    expect(page).toContain('As drawn, for comparison: all 1 good');
  });
});

describe('any answer', () => {
  const number = fc.oneof(
    fc.double({ min: -60, max: 60, noNaN: true }),
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.constantFrom(-Infinity, 0, -0),
  );
  const text = fc.oneof(fc.string({ unit: 'grapheme', maxLength: 30 }), fc.constantFrom('R101', 'C1@left', '温度 計'));
  const finding: fc.Arbitrary<Finding> = fc.record({
    level: fc.constantFrom('good', 'look', 'fail', 'not measured'),
    what: fc.constantFrom(
      'deviation',
      'bass',
      'treble',
      'ultrasonic',
      'subsonic_high',
      'subsonic_low',
      'gain',
      'balance',
      'output_dc',
      'node_volts',
    ),
    ref: text,
    state: fc.constantFrom('drawn', 'found', 'rebuilt'),
    channel: fc.constantFrom('left', 'right', 'mono', null),
    counts: fc.boolean(),
    value: number,
    margin: number,
    unit: fc.constantFrom('dB', '%', 'mV'),
    where: text,
    cause: fc.string({ unit: 'grapheme', maxLength: 200 }),
    next: text,
  });
  const state = (channels: readonly string[]): fc.Arbitrary<CheckAnswer['states']['drawn']> =>
    fc
      .record({
        db: fc.array(number, { minLength: 3, maxLength: 3 }),
        volts: fc.dictionary(text, number, { maxKeys: 6 }),
        refs: fc.array(text),
      })
      .map(({ db, volts, refs }) => ({
        ...inventedState(channels, (hz) => db[Math.round(hz) % 3] ?? 0, volts),
        assumed: refs,
        notes: refs,
        ideal: [{ figure: 'no ESR', refs }],
      }));
  const answers = fc.constantFrom(['mono'], ['left', 'right'], ['left', 'right', 'rear']).chain((channels) =>
    fc.record({
      title: text,
      channels: fc.constant(channels),
      limits: fc.constant(mergeLimits()),
      states: fc.record({
        drawn: state(channels),
        found: fc.option(state(channels)),
        rebuilt: fc.option(state(channels)),
        measured: fc.constant(null),
      }),
      unsolved: fc.constant([]),
      effects: fc.array(
        fc.record({
          ref: text,
          description: text,
          channel: fc.constant('left'),
          moves: fc.option(
            fc.record({
              at20HzDb: number,
              at10kHzDb: number,
              gainDb: number,
              balanceDb: fc.option(number),
              node: text,
              nodeMv: number,
            }),
          ),
        }),
        { maxLength: 5 },
      ),
      findings: fc.array(finding, { maxLength: 8 }),
      verdict: fc.constantFrom('good', 'look', 'fail', 'not measured'),
    }),
  );

  it('becomes a page that keeps to its width and carries no escape codes', () => {
    fc.assert(
      fc.property(answers, fc.integer({ min: 60, max: 120 }), (answer, width) => {
        const text = checkPage(answer, { width, colour: false });
        expect(widestOf(text)).toBeLessThanOrEqual(Math.min(width, 110));
        expect(hasColour(text)).toBe(false);
        expect(text).not.toMatch(/NaN|undefined|null/);
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });
});
