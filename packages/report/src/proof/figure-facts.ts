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
    const values = shown.map(([, state]) => channels.map((_, c) => row.read(state, c)));
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
    ['gain 1 kHz', 'input to output, with its load'],
    ['worst deviation', `from RIAA, re 1 kHz, ${band(deviation.from, deviation.to)}`],
    ['20 Hz', 'deviation re 1 kHz'],
    ['100 Hz', 'deviation re 1 kHz'],
    ['10 kHz', 'deviation re 1 kHz'],
    ['20 kHz', 'deviation re 1 kHz'],
    ['roll-off −3 dB', 'of the deviation, in the bass'],
    ['balance', `largest, ${band(balance.from, balance.to)}`],
    ['hiss, A-weighted', 'input shorted, at the input, 20 Hz to 20 kHz'],
    ['hum re 5 mV', 'ripple of the supplies alone'],
    ['crosstalk 1 kHz', 'through supplies and shared nodes alone'],
    ['overload', `input, rms, ${frequency(overload.at)}: 1 % THD or −1 dB`],
    ['THD at 5 mV', '1 kHz, rms at the input'],
    ['settles in', `after switch-on, to ${quantity(settle.within, 'V', 2)}`],
    ['input 1 kHz', 'what the cartridge sees'],
  ];
}
