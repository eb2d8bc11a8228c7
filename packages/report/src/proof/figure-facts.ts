import type { Limits } from '@curvewright/board';
import type { CheckAnswer, Finding, Level } from '@curvewright/verify';
import { byLevel } from '../finding-groups.ts';
import { figureRows, type FigureRow } from '../figure-rows.ts';
import { frequency, quantity } from '../numbers.ts';
import { statesShown } from '../states-shown.ts';

/** One figure of the stage as the sheet prints it. */
export interface FigureFact {
  readonly label: string;
  readonly unit: string;
  /** By state, then by channel. */
  readonly values: readonly (readonly string[])[];
  /** Of the last state; null where no limit judges it. */
  readonly level: Level | null;
  /** How it is computed, in words. */
  readonly condition: string;
}

/** Each figure that a customer is told, with the conditions that it holds under. */
export function figureFacts(answer: CheckAnswer): readonly FigureFact[] {
  const { channels, limits, states } = answer;
  const shown = statesShown(answer);
  const rows = figureRows(channels, states.drawn);
  return conditionsOf(limits).flatMap(([label, condition]) => {
    const row = rows.find((each) => each.label === label);
    if (row === undefined) return [];
    const at = label === 'worst deviation' ? rows[rows.indexOf(row) + 1] : undefined;
    const values = shown.map(([, state]) =>
      channels.map((_, c) => row.read(state, c) + (at === undefined ? '' : ` at ${at.read(state, c)}`)),
    );
    return [{ label, unit: row.unit, values, level: levelOf(row, answer), condition }];
  });
}

function levelOf({ judgedBy }: FigureRow, { findings }: CheckAnswer): Level | null {
  const judged: readonly Finding[] = findings.filter((finding) => finding.counts && judgedBy(finding));
  return judged.toSorted(byLevel)[0]?.level ?? null;
}

function conditionsOf(limits: Limits): readonly (readonly [label: string, condition: string])[] {
  const { deviation, balance, overload, settle } = limits;
  const band = (from: number, to: number): string => `${frequency(from)} to ${frequency(to)}`;
  return [
    ['gain 1 kHz', 'input node to output node, with its load'],
    ['worst deviation', `from the RIAA curve re 1 kHz, ${band(deviation.from, deviation.to)}`],
    ['20 Hz', 'deviation re 1 kHz'],
    ['100 Hz', 'deviation re 1 kHz'],
    ['10 kHz', 'deviation re 1 kHz'],
    ['20 kHz', 'deviation re 1 kHz'],
    ['roll-off −3 dB', 'where deviation falls through −3 dB in the bass'],
    ['balance', `largest, ${band(balance.from, balance.to)}`],
    ['hiss, A-weighted', 'input shorted, referred to the input, 20 Hz to 20 kHz'],
    ['hum re 5 mV', 'ripple of the supplies alone, re 5 mV at 1 kHz'],
    ['crosstalk 1 kHz', 'through supplies and shared nodes alone'],
    ['overload', `rms at the input, ${frequency(overload.at)}, 1 % THD or 1 dB less gain`],
    ['THD at 5 mV', '1 kHz, 5 mV rms at the input'],
    ['settles in', `after switch-on, to ${quantity(settle.within, 'V', 2)} at the output`],
    ['input 1 kHz', 'resistance that the cartridge sees'],
  ];
}
