import type { Judged } from '../judge.ts';
import { marginTo } from '../judge.ts';
import { valueWords } from '../cause-words.ts';

/** What each limit is called in a reason. */
const names: Partial<Record<Judged['what'], string>> = {
  ultrasonic: 'ultrasonic peak',
  subsonic_high: 'subsonic peak',
  subsonic_low: 'deep subsonic peak',
  output_dc: 'DC at the output',
  node_volts: 'bias',
  input_resistance: 'input resistance',
  settle: 'settling',
};

/** Reasons told of one candidate. */
const told = 3;

/** `bass −1.58 dB at 20 Hz, 0.08 dB outside`; the worst first, and once where the channels' figures or those of several nodes are alike. */
export function reasonsOf(open: readonly Judged[]): readonly string[] {
  const firsts = open.filter((figure, n) => open.findIndex(({ what }) => what === figure.what) === n);
  const others = firsts.length - told;
  return [...firsts.slice(0, told).map(reason), ...(others > 0 ? [`and ${others} more`] : [])];
}

function reason(figure: Judged): string {
  const { what, value, where } = figure;
  const outside = -marginTo(figure, figure.good);
  if (Number.isNaN(value)) return `${names[what] ?? what}: not found`;
  return `${names[what] ?? what} ${valueWords(figure, value)} ${where}, ${valueWords({ what: 'overload', unit: figure.unit }, outside)} outside`;
}
