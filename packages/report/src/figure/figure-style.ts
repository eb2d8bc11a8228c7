import type { State } from '@curvewright/board';

/** Whose line it is: a state's, what was measured, or the curve it is held against. */
export type Look = State | 'measured' | 'target';

/** Lengths in CSS pixels. */
export interface LookStyle {
  readonly ink: InkName;
  /** 0: no line, points alone. */
  readonly width: number;
  /** Lengths of stroke and gap, empty for a solid line. */
  readonly dash: readonly number[];
  /** What stands on the line: on its points where there is no line, else at some distance from each other. */
  readonly mark: 'open square' | 'dot' | null;
}

/** The same in every figure; told apart without colour by width, dash and mark. */
export const lookStyles: Readonly<Record<Look, LookStyle>> = {
  drawn: { ink: 'drawn', width: 1.25, dash: [], mark: null },
  found: { ink: 'found', width: 1.75, dash: [9, 5], mark: 'open square' },
  rebuilt: { ink: 'rebuilt', width: 2.75, dash: [], mark: null },
  measured: { ink: 'measured', width: 0, dash: [], mark: 'dot' },
  target: { ink: 'muted', width: 1, dash: [1, 3], mark: null },
};

/** The second channel: the same line, and a fine one beside it. */
export const secondLine: { readonly width: number; readonly gap: number } = { width: 0.9, gap: 1.6 };

/** How much of the state's ink a band takes. */
export const bandShare: number = 0.14;

/** Hairlines of limits. */
export const limitDashes: Readonly<Record<'good' | 'look', readonly number[]>> = { good: [1.5, 2.5], look: [5, 3] };

export type InkName = 'drawn' | 'found' | 'rebuilt' | 'measured' | 'text' | 'muted' | 'grid' | 'paper';

/** On light and on dark paper: text 4.5:1 and lines 3:1 or better on either paper; the grid is ornament. */
export const inks: Readonly<Record<InkName, Readonly<Record<'light' | 'dark', string>>>> = {
  drawn: { light: '#6B7280', dark: '#9CA3AF' },
  found: { light: '#9A6700', dark: '#D9A441' },
  rebuilt: { light: '#0B6E75', dark: '#4FB8C0' },
  measured: { light: '#1B1F24', dark: '#F3F1EA' },
  text: { light: '#1B1F24', dark: '#F3F1EA' },
  muted: { light: '#5B6069', dark: '#A9ADB5' },
  grid: { light: '#E3E0D8', dark: '#2E343B' },
  paper: { light: '#FCFBF7', dark: '#171A1E' },
};

/** The page's own variable for an ink, as its style sheet sets it for light, dark and print. */
export function inkVariable(name: InkName): `--ink-${InkName}` {
  return `--ink-${name}`;
}
