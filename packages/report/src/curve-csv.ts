import type { TitledCurve } from './curve-page.ts';

const columns: readonly string[] = ['hz', 'state', 'channel', 'gain_db', 'phase_deg', 'target_db', 'deviation_db'];

/** A row a frequency and channel, RFC 4180 with a heading row; numbers with a decimal point, to the last digit. */
export function curveCsv({ state, channels }: TitledCurve): string {
  const rows = channels.flatMap(({ name, points }) =>
    points.map(({ hz, gainDb, phaseDeg, targetDb, deviationDb }) =>
      [String(hz), state, quoted(name), gainDb, phaseDeg, targetDb, deviationDb].join(','),
    ),
  );
  return [columns.join(','), ...rows].map((line) => `${line}\r\n`).join('');
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
