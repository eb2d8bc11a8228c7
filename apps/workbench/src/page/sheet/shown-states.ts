import type { State } from '@curvewright/board';
import type { CheckAnswer } from '@curvewright/verify';
import { none, type FigureRow, type Numbers } from '@curvewright/report';
import type { LiveCurves, SheetView } from '../../contract/compute.ts';
import { liveNumbers } from './live-numbers.ts';

/** A state's numbers in the order in which they come: newest first, each with whether it is of the texts as they stand. */
export interface ShownState {
  readonly state: State;
  readonly sources: readonly { readonly numbers: Numbers; readonly isOld: boolean }[];
}

export interface Cell {
  readonly text: string;
  readonly isOld: boolean;
}

/** `live` moves the last state; while it does, what it does not tell is out of date. */
export function shownStates(
  view: SheetView,
  check: { readonly answer: CheckAnswer; readonly isOld: boolean } | null,
  live: LiveCurves | null,
): readonly ShownState[] {
  return view.states.map((numbers, n) => {
    const { state } = numbers;
    const hz = view.curves[n]?.hz;
    const moves = live !== null && hz !== undefined && n === view.states.length - 1;
    const told = check?.answer.states[state] ?? null;
    return {
      state,
      sources: [
        ...(moves ? [{ numbers: liveNumbers(numbers, live, hz), isOld: false }] : []),
        { numbers, isOld: moves },
        ...(check === null || told === null ? [] : [{ numbers: told, isOld: moves || check.isOld }]),
      ],
    };
  });
}

/** What a row says of a state: the newest source that has a number. */
export function cellOf({ sources }: ShownState, row: FigureRow, channel: number): Cell {
  for (const { numbers, isOld } of sources) {
    const text = row.read(numbers, channel);
    if (text !== none && text !== '') return { text, isOld };
  }
  const last = sources.at(-1);
  return { text: last === undefined ? none : row.read(last.numbers, channel), isOld: false };
}
