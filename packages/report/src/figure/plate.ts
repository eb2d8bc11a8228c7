import { inks, inkVariable, type InkName } from './figure-style.ts';

export interface PlateOptions {
  /** One of several beside each other is `small`. */
  readonly size: 'full' | 'small';
  /**
   * `page`: the style sheet's variables, with the inks of light paper where there are none. The others stand for themselves: `light` and
   * `dark` with their paper, `print` on whatever it is printed on.
   */
  readonly ink: 'page' | 'light' | 'dark' | 'print';
  /** False where the page writes the title beside it. */
  readonly titled: boolean;
}

/** Where everything stands on a plate, in pixels. */
export interface Plate {
  readonly width: number;
  readonly height: number;
  /** Sides of the plot. */
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** Base lines of the title and of the key. */
  readonly titleAt: number;
  readonly keyAt: number;
  /** Sizes of type. */
  readonly title: number;
  readonly text: number;
  readonly ink: (name: InkName) => string;
}

/** Sizes of a sheet and its margins. */
const sheets = {
  full: { width: 720, height: 400, title: 16, text: 12.5, left: 48, behind: 26, foot: 28 },
  small: { width: 360, height: 236, title: 14, text: 11.5, left: 44, behind: 22, foot: 24 },
} as const;

/** `sideRoom`: pixels that what stands left of the plot takes in a size of type. */
export function plateOf({ size, ink, titled }: PlateOptions, sideRoom: (text: number) => number): Plate {
  const { behind, foot, ...sheet } = sheets[size];
  const titleAt = titled ? sheet.title + 4 : 0;
  const keyAt = titleAt + sheet.text + 9;
  return {
    ...sheet,
    left: Math.max(sheet.left, sideRoom(sheet.text)),
    right: sheet.width - behind,
    top: keyAt + sheet.text + 3,
    bottom: sheet.height - foot,
    titleAt,
    keyAt,
    ink: inkReader(ink),
  };
}

/** The colours of an ink's names. */
export function inkReader(ink: PlateOptions['ink']): (name: InkName) => string {
  switch (ink) {
    case 'page':
      return (name) => `var(${inkVariable(name)},${inks[name].light})`;
    case 'print':
      return (name) => (name === 'paper' ? '#FFFFFF' : inks[name].light);
    case 'light':
    case 'dark':
      return (name) => inks[name][ink];
  }
}
