import type { VoltageChart } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { curveCsv, curvePage, diagnosticLines, voltsPage, type ChartedCurve } from '../src/index.ts';
import { lineWith, widestOf } from './lines.ts';

const plain = { width: 80, colour: false };

function curve(frequencies: readonly number[]): ChartedCurve {
  const points = frequencies.map((hz) => ({
    hz,
    gainDb: 35.1 + 0.1,
    phaseDeg: -48.4,
    targetDb: 0.125,
    deviationDb: -0.25,
  }));
  const channels = ['left', 'right, rear'].map((name) => ({ name, points }));
  const hz = Array.from({ length: 20 }, (_, n) => 2 * 1.77 ** n);
  const fallingBelow = (corner: number): number[] => hz.map((f) => -10 * Math.log10(1 + (corner / f) ** 2));
  const states = (['drawn', 'rebuilt'] as const).map((state) => ({
    state,
    hz,
    channels: [fallingBelow(5), fallingBelow(state === 'drawn' ? 5 : 50)],
  }));
  return { title: 'Larkfield LK 417', state: 'rebuilt', target: 'riaa-1976', channels, states };
}

describe('the curve page', () => {
  it('has a line a frequency with both channels, and says against what', () => {
    const page = curvePage(curve([20, 1000]), plain);
    expect(page).toContain('Larkfield LK 417, as rebuilt, against the RIAA curve with the 7950 µs term');
    expect(lineWith(page, '1 kHz')).toMatch(/^ *1 kHz +\+0\.1[23] +35\.20 +−48 +−0\.25 +35\.20 +−48 +−0\.25$/);
  });

  it('charts before and after of the channel that is further off, whatever frequencies the table has', () => {
    const page = curvePage(curve([20, 1000]), plain);
    expect(page).toContain('Deviation, right, rear, the channel further off');
    expect(page).toMatch(/─ drawn +━+ rebuilt/);
    expect(page).toContain('┤');
    expect(widestOf(page)).toBeLessThanOrEqual(80);
  });
});

describe('the curve file', () => {
  const [head, ...rows] = curveCsv(curve([20, 1000])).split('\r\n');

  it('has one row a channel and frequency under one heading', () => {
    expect(head).toBe('hz,state,channel,gain_db,phase_deg,target_db,deviation_db');
    expect(rows).toHaveLength(5);
    expect(rows[4]).toBe('');
    expect(rows[1]).toBe(`1000,rebuilt,left,${35.1 + 0.1},-48.4,0.125,-0.25`);
  });

  it('reads back to the same doubles, and quotes a name with a comma', () => {
    expect(Number(rows[0]?.split(',')[3])).toBe(35.1 + 0.1);
    expect(rows[2]).toContain(',"right, rear",');
  });
});

describe('the voltage chart page', () => {
  const channel = (
    name: string,
    refs: readonly [string, string],
    meterVolts: number | null,
  ): VoltageChart['channels'][number] => ({
    name,
    nodes: [
      { node: 'b1', volts: 0.6214, meterVolts },
      { node: 'vcc', volts: 26, meterVolts: 26 },
    ],
    parts: [
      { ref: refs[0], volts: 15.34, amps: 1e-20, powerW: 1e-40 },
      { ref: refs[1], icA: 92.9e-6, ibA: 235e-9, vceV: 3.71, vbeV: 0.548, powerW: 350e-6 },
      { ref: 'R121', volts: 1.2, amps: 2.55e-3, powerW: 3.1e-3 },
      { ref: 'J1', idA: 1e-3, vdsV: 5, vgsV: -0.4, powerW: 5e-3 },
      { ref: 'V1', iaA: 1e-3, vaV: 180, vgV: -1.5, powerW: 0.18 },
      { ref: 'U1', outV: 0.01, limited: true },
    ],
  });
  const page = voltsPage(
    {
      meterOhms: 10e6,
      channels: [channel('left', ['R101', 'Q101'], 0.6201), channel('right', ['R102', 'Q102'], null)],
      rails: [{ rail: 'vcc', volts: 26, amps: 2.55e-3 }],
    },
    { ...plain, title: 'Larkfield LK 417', state: 'drawn', rounds: [], warm: [] },
  );

  it('sets the channels side by side, computed and as the meter shows it', () => {
    expect(lineWith(page, 'b1 ')).toMatch(/^b1 +0\.621 +0\.620 +0\.621 +–$/);
    expect(page).toContain('The meter puts 10 MΩ from the node to gnd.');
  });

  it('sets the parts of a place together and a shared part once', () => {
    const refs = [...page.matchAll(/^([A-Z]\d+)/gm)].map(([, ref]) => ref);
    expect(refs).toEqual(['Q101', 'Q102', 'J1', 'V1', 'U1', 'R101', 'R102', 'R121']);
    expect(lineWith(page, 'Q101')).toMatch(/92\.9 µA +235 nA +3\.71 +0\.548 +350 µW$/);
    expect(lineWith(page, 'U1 ')).toContain('at its limit');
  });

  it('prints a current that is rounding only as none', () => {
    expect(lineWith(page, 'R101')).toMatch(/15\.3 +0 A +0 W$/);
  });

  it('lists the rails', () => {
    expect(lineWith(page, '2.55 mA ')).toMatch(/^R121/);
    expect(page).toMatch(/^vcc +26\.0 +2\.55 mA$/m);
  });
});

describe('diagnostic lines', () => {
  it('are one a fault with its place, whatever the message holds', () => {
    const place = { file: 'a.yaml', line: 3, column: 7 };
    const faults = [
      { code: 'bare-number' as const, place, message: '4.7 has no unit; write 4.7 kΩ' },
      { code: 'unknown-key' as const, place: { ...place, line: 9 }, message: 'a\nb\u001b[2J' },
    ];
    expect(diagnosticLines(faults)).toBe('a.yaml:3:7: 4.7 has no unit; write 4.7 kΩ\na.yaml:9:7: a b [2J');
    expect(diagnosticLines([])).toBe('');
  });
});
