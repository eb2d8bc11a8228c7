import type { CrosstalkAnswer, HumAnswer, LoadingAnswer, NoiseAnswer } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { crosstalkPage, humPage, loadingPage, noisePage } from '../src/index.ts';
import { lineWith, widestOf } from './lines.ts';

const options = { title: 'Larkfield LK 417', state: 'rebuilt', width: 80, colour: false } as const;

describe('the noise page', () => {
  const answer: NoiseAnswer = {
    source: 'MM-A (800 Ω, 480 mH, 150 pF)',
    reference: '5 mV rms at 1 kHz at the input',
    weighting: 'none, and A (IEC 61672-1)',
    fromHz: 20,
    toHz: 20_000,
    channels: ['left', 'right'].map((name) => ({
      name,
      gainDb: 36,
      inputUv: 0.5194,
      inputAWeightedUv: 0.2043,
      snrDb: 79.67,
      snrAWeightedDb: 87.77,
      shares: [
        {
          ref: 'Q101',
          share: 0.547,
          aWeightedShare: 0.381,
          from: [
            { name: 'shot of the base', share: 0.4, aWeightedShare: 0.1 },
            { name: 'shot of the collector', share: 0.147, aWeightedShare: 0.281 },
          ],
        },
        {
          ref: `input@${name}`,
          share: 0.2,
          aWeightedShare: 0.1,
          from: [{ name: 'thermal', share: 0.2, aWeightedShare: 0.1 }],
        },
        {
          ref: 'R121',
          share: 0.002,
          aWeightedShare: 0.006,
          from: [{ name: 'thermal', share: 0.002, aWeightedShare: 0.006 }],
        },
        {
          ref: 'R125',
          share: 0.001,
          aWeightedShare: 0.002,
          from: [{ name: 'thermal', share: 0.001, aWeightedShare: 0.002 }],
        },
      ],
      points: [
        { hz: 1000, outputNv: 218, inputNv: 3.456 },
        { hz: 1250, outputNv: 200, inputNv: 9.999 },
      ],
    })),
    ideal: [{ figure: 'no excess noise', refs: ['R101', 'R102'] }],
  };
  const page = noisePage(answer, options);

  it('always prints source, reference and weighting', () => {
    expect(page).toContain('Larkfield LK 417, as rebuilt: hiss, input MM-A (800 Ω, 480 mH, 150 pF)');
    const words = page.replaceAll('\n', ' ');
    expect(words).toContain('signal to noise re 5 mV rms at 1 kHz at the input');
    expect(words).toContain('Weighting: none, and A (IEC 61672-1). Source: MM-A (800 Ω, 480 mH, 150 pF).');
  });

  it('shows both weightings of every channel', () => {
    expect(lineWith(page, 'at the input, µV')).toMatch(/0\.519 +0\.519$/);
    expect(page.split('\n').filter((line) => line.startsWith('  A-weighted'))).toHaveLength(2);
    expect(lineWith(page, '  at 1 kHz')).toMatch(/3\.46 +3\.46/);
    expect(page).not.toContain('1.25 kHz');
  });

  it('ranks who makes it, with what in the part does, and leaves out what does not count in either weighting', () => {
    expect(page.split('\n').find((line) => line.startsWith('Q101'))).toMatch(
      /54\.7 +38\.1 +shot of the base 40\.0 \(A 10\.0\)/,
    );
    expect(page).toContain('source, left');
    expect(page).toContain('R121');
    expect(page).not.toContain('R125');
  });

  it('lists what it took as ideal, and keeps to the width', () => {
    expect(page).toContain('Taken as ideal: no excess noise (R101, R102)');
    expect(widestOf(page)).toBeLessThanOrEqual(80);
  });
});

describe('the hum page', () => {
  const answer: HumAnswer = {
    source: 'shorted',
    reference: '5 mV rms at 1 kHz at the input',
    leftOut: 'Through rails and common nodes only: pick-up is not modelled.',
    rails: [
      {
        rail: 'vcc',
        rippleV: 0.02,
        rippleHz: 120,
        channels: [
          {
            name: 'mono',
            points: [
              { hz: 100, db: -37.3 },
              { hz: 120, db: -40.1 },
              { hz: 125, db: -41 },
              { hz: 200, db: null },
            ],
            outputMv: 0.197,
          },
        ],
        decouplers: [{ ref: 'C115', hz: 120, channels: [{ name: 'mono', db: 34.65 }] }],
      },
      {
        rail: 'vee',
        rippleV: null,
        rippleHz: null,
        channels: [{ name: 'mono', points: [], outputMv: null }],
        decouplers: [],
      },
    ],
    channels: [{ name: 'mono', outputMv: 0.197, humDb: -64.1 }],
  };
  const page = humPage(answer, options);

  it('shows hum, transfer at the ripple and at the main frequencies, and what a decoupler holds back', () => {
    expect(lineWith(page, 'hum re programme')).toMatch(/−64\.1$/);
    expect(lineWith(page, 'Rail vcc')).toContain('ripple 20 mV at 120 Hz and its harmonics');
    expect(lineWith(page, '  120 Hz')).toMatch(/−40\.1$/);
    expect(page).not.toContain('125 Hz');
    expect(lineWith(page, '  200 Hz')).toMatch(/–$/);
    expect(lineWith(page, 'C115')).toMatch(/\+34\.65$/);
  });

  it('says where no ripple is stated, how rails add, and what is left out', () => {
    expect(lineWith(page, 'Rail vee')).toContain('the board states no ripple');
    expect(page.replaceAll('\n', ' ')).toContain('Rails add as if they were not in step.');
    expect(page).toContain('pick-up is not modelled');
    expect(humPage({ ...answer, rails: answer.rails.slice(0, 1) }, options)).not.toContain('in step');
  });
});

describe('the crosstalk page', () => {
  const answer: CrosstalkAnswer = {
    source: 'shorted',
    leftOut: 'Through rails and common nodes only: wiring is not modelled.',
    points: [
      { hz: 20, from: 'left', to: 'right', db: 42.61 },
      { hz: 20, from: 'right', to: 'left', db: 43.2 },
      { hz: 1000, from: 'left', to: 'right', db: 94 },
      { hz: 1000, from: 'right', to: 'left', db: null },
      { hz: 1250, from: 'left', to: 'right', db: 95 },
      { hz: 1250, from: 'right', to: 'left', db: 95 },
    ],
    channels: [],
  };

  it('has a column for each direction, and a dash where nothing leads across', () => {
    const page = crosstalkPage(answer, options);
    expect(lineWith(page, 'left in right')).toContain('right in left');
    expect(lineWith(page, '20 Hz')).toMatch(/42\.6 +43\.2$/);
    expect(lineWith(page, '1 kHz')).toMatch(/94\.0 +–$/);
    expect(page).toContain('nothing leads from the one channel to the other');
    expect(page).toContain('wiring is not modelled');
    expect(page).not.toContain('1.25');
  });

  it('says so where there is one channel only', () => {
    expect(crosstalkPage({ ...answer, points: [] }, options)).toContain('One channel: there is nothing to leak into.');
  });
});

describe('the loading page', () => {
  const answer: LoadingAnswer = {
    cartridge: { name: 'MM-A', resistance: 800, inductance: 0.48, capacitance: 150e-12 },
    capacitanceHz: 10_000,
    channels: [
      {
        name: 'mono',
        points: [
          { hz: 1000, ohms: 47e3, phaseDeg: -1 },
          { hz: 1250, ohms: 47e3, phaseDeg: -1 },
        ],
        inputOhms: 47.2e3,
        capacitanceF: 4.04e-12,
        response: [
          { hz: 1000, db: -0.2, relativeDb: 0 },
          { hz: 1250, db: -0.1, relativeDb: 0.1 },
        ],
        resonance: { hz: 18_700, peakHz: 9890, peakDb: 0.354 },
        curve: { hz: [1000, 1250], ohms: [47e3, 47e3], relativeDb: [0, 0.1] },
      },
    ],
  };

  it('shows the input, the resonance and the response re 1 kHz of the named cartridge', () => {
    const page = loadingPage(answer, options);
    expect(lineWith(page, 'resistance at 1 kHz')).toMatch(/47\.2 kΩ$/);
    expect(lineWith(page, 'capacitance at 10 kHz')).toMatch(/4\.04 pF$/);
    expect(lineWith(page, 'MM-A resonates at')).toMatch(/18\.7 kHz$/);
    expect(lineWith(page, 'highest above 1 kHz')).toMatch(/\+0\.35$/);
    expect(page).toMatch(/^1 kHz +47 kΩ +0\.00$/m);
    expect(page).toContain('Response: MM-A (800 Ω, 480 mH, cable 150 pF) from its EMF');
  });

  it('without a cartridge says what to write', () => {
    const channels = answer.channels.map((channel) => ({ ...channel, response: [], resonance: null }));
    const page = loadingPage({ ...answer, cartridge: null, channels }, options);
    expect(page.replaceAll('\n', ' ')).toContain('write one under cartridges:');
    expect(page).not.toContain('resonates');
    expect(page).toMatch(/^1 kHz +47 kΩ +–$/m);
  });
});
