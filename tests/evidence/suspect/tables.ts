import type { Place } from './verdict.ts';
import type { Session } from './session.ts';

export interface FaultLine {
  readonly key: string;
  readonly what: 'fault';
  readonly board: string;
  readonly offered: string;
  readonly ref: string;
  readonly kind: string;
  readonly words: string;
  readonly place: Place | 'invisible' | 'no bias';
  /** What it is tied with, itself among them. */
  readonly group: readonly string[];
}

export interface HealthyLine {
  readonly key: string;
  readonly what: 'healthy';
  readonly board: string;
  readonly offered: string;
  /** The part that has more than half, if one has. */
  readonly accused: string | null;
  readonly healthy: number;
}

export interface SessionLine {
  readonly key: string;
  readonly what: 'session';
  readonly board: string;
  readonly guided: Session | null;
  readonly fixed: Session | null;
}

export type Line = FaultLine | HealthyLine | SessionLine;

const places = ['first', 'in three', 'tied', 'group', 'miss', 'nothing wrong', 'invisible', 'no bias'] as const;
const served: readonly string[] = ['first', 'in three', 'tied'];
const counted: readonly string[] = [...served, 'group', 'miss', 'nothing wrong'];

/** Confusion by fault kind, false accusations, what cannot be told apart, sessions. */
export function tables(lines: readonly Line[]): readonly string[] {
  const faults = lines.filter((line) => line.what === 'fault');
  const healthy = lines.filter((line) => line.what === 'healthy');
  const sessions = lines.filter((line) => line.what === 'session');
  const offers = [...new Set(faults.map(({ offered }) => offered))];
  return [
    ...offers.flatMap((offered) => [
      '',
      `Every fault of every part, read: ${offered}`,
      ...faultTable(
        faults.filter((line) => line.offered === offered),
        ({ kind }) => kind,
      ),
      '',
      ...faultTable(
        faults.filter((line) => line.offered === offered),
        ({ board }) => board,
      ),
      ...accusations(healthy.filter((line) => line.offered === offered)),
    ]),
    '',
    'What chart and curve cannot tell apart, more than three together',
    ...groupsTold(faults.filter((line) => line.offered === 'chart and curve')),
    '',
    'Faults that move no reading of chart and curve by more than 2 σ',
    ...invisibleTold(faults.filter((line) => line.offered === 'chart and curve')),
    '',
    'Readings until the suspect, or a tie of at most three, is above 95 %',
    ...sessionTable(sessions),
  ];
}

function faultTable(lines: readonly FaultLine[], of: (line: FaultLine) => string): readonly string[] {
  const rows = [...new Set(lines.map(of))].sort();
  const row = (name: string, own: readonly FaultLine[]): string => {
    const count = (place: string): number => own.filter((line) => line.place === place).length;
    const all = own.filter(({ place }) => counted.includes(place)).length;
    const found = own.filter(({ place }) => served.includes(place)).length;
    const share = all === 0 ? '–' : `${((100 * found) / all).toFixed(1)} %`;
    return [
      name.padEnd(18),
      ...places.map((place) => String(count(place)).padStart(Math.max(6, place.length + 2))),
      share.padStart(9),
    ].join('');
  };
  return [
    [''.padEnd(18), ...places.map((place) => place.padStart(Math.max(6, place.length + 2))), 'found'.padStart(9)].join(
      '',
    ),
    ...rows.map((name) =>
      row(
        name,
        lines.filter((line) => of(line) === name),
      ),
    ),
    row('all', lines),
  ];
}

function accusations(lines: readonly HealthyLine[]): readonly string[] {
  const accused = lines.filter((line) => line.accused !== null);
  const doubtful = lines.filter(({ healthy }) => healthy < 0.5).length;
  const share = ((100 * accused.length) / lines.length).toFixed(1);
  return [
    `Healthy boards: ${lines.length}; a part above 50 %: ${accused.length} (${share} %); nothing wrong below 50 %: ${doubtful}`,
  ];
}

/** Channels alike: the groups of the right one are those of the left one again. */
function groupsTold(lines: readonly FaultLine[]): readonly string[] {
  const groups = new Map<string, number>();
  for (const { board, place, group } of lines) {
    if (place !== 'group') continue;
    const name = `${board}: ${[...group].sort().join(', ')}`;
    groups.set(name, (groups.get(name) ?? 0) + 1);
  }
  return [...groups].sort((a, b) => b[1] - a[1]).map(([name, count]) => `  ${String(count).padStart(3)} × ${name}`);
}

function invisibleTold(lines: readonly FaultLine[]): readonly string[] {
  const kinds = new Map<string, string[]>();
  for (const { board, place, ref, kind } of lines) {
    if (place !== 'invisible') continue;
    const name = `${board}, ${kind}`;
    const refs = kinds.get(name) ?? [];
    kinds.set(name, refs);
    if (!refs.includes(ref)) refs.push(ref);
  }
  return [...kinds].map(([name, refs]) => `  ${name}: ${refs.join(', ')}`);
}

function sessionTable(lines: readonly SessionLine[]): readonly string[] {
  const row = (name: string, all: readonly (Session | null)[]): string => {
    const done = all.flatMap((each) => (each === null ? [] : [each]));
    const counts = done.map(({ count }) => count).sort((a, b) => a - b);
    const mean = counts.reduce((sum, each) => sum + each, 0) / counts.length;
    const minutes = done.reduce((sum, each) => sum + each.minutes, 0) / done.length;
    const surely = done.filter(({ sure }) => sure).length;
    const right = done.filter((each) => each.right).length;
    return `${name.padEnd(18)} sessions ${done.length}, readings: median ${counts[Math.floor(counts.length / 2)] ?? NaN}, mean ${mean.toFixed(1)}; minutes: mean ${minutes.toFixed(1)}; sure ${surely}, right ${right}`;
  };
  return [
    row(
      'what next says',
      lines.map(({ guided }) => guided),
    ),
    row(
      'in chart order',
      lines.map(({ fixed }) => fixed),
    ),
  ];
}
