import type { State } from '@curvewright/board';
import type { CheckAnswer, StateAnswer } from '@curvewright/verify';

/** The states an answer holds, in the order of the job; the verdict rests on the last. */
export function statesShown({ states }: CheckAnswer): readonly (readonly [State, StateAnswer])[] {
  const { drawn, found, rebuilt } = states;
  return [
    ['drawn', drawn] as const,
    ...(found === null ? [] : [['found', found] as const]),
    ...(rebuilt === null ? [] : [['rebuilt', rebuilt] as const]),
  ];
}

/** `L` and `R` for the usual two, any other name as it is. */
export function channelLetter(name: string): string {
  return name === 'left' ? 'L' : name === 'right' ? 'R' : name;
}
