import type { ChoiceMark, LevelMark, Mark } from '@curvewright/report';

/** `−6.5 dB`, `0.65 V`. */
export function levelText(value: number, { unit, step }: LevelMark): string {
  const decimals = Math.max(unit === 'V' ? 2 : 1, -Math.floor(Math.log10(step) + 1e-9));
  const text = Math.abs(value).toFixed(decimals);
  const isZero = Number(text) === 0;
  const sign = isZero ? '' : value < 0 ? '−' : unit === 'dB' ? '+' : '';
  return `${sign}${text} ${unit}`;
}

export function markText(mark: Mark, at: number): string {
  return mark.kind === 'level' ? levelText(at, mark) : optionText(mark, at);
}

export function answerText(mark: Mark): string {
  return markText(mark, mark.answer);
}

function optionText({ options }: ChoiceMark, at: number): string {
  return options[at] ?? '';
}

/** Whether a mark says what the board says. */
export function isRight(mark: Mark, at: number): boolean {
  return mark.kind === 'level' ? Math.abs(at - mark.answer) <= mark.close : at === mark.answer;
}
