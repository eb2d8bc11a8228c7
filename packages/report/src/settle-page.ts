import type { ChannelSettling, SettleAnswer } from '@curvewright/verify';
import { hanging, wrap } from './cells.ts';
import { none, quantity, volts } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { swingChart } from './swing-chart.ts';
import { tableLines, type Column } from './table.ts';

/** Switch-on: how long the outputs take and how far they swing; the outputs over time; what every capacitor and junction sees. */
export function settlePage(answer: SettleAnswer, options: StagePageOptions): string {
  return stagePage(options, 'switching on', (page) => [
    outputs(answer, page),
    ...charts(answer, page),
    parts(answer, page),
    remarks(answer, page),
  ]);
}

function outputs({ channels, withinV }: SettleAnswer, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [{ align: 'left' }, ...channels.map((): Column => ({ align: 'point', gap: 4 }))];
  const each = (cell: (channel: ChannelSettling) => string): readonly string[] => channels.map(cell);
  return tableLines(
    columns,
    [
      ['output', ...each(({ name }) => name)],
      [
        `settles to ${quantity(withinV, 'V', 2)} after`,
        ...each(({ settleS }) => (settleS === null ? none : quantity(settleS, 's', 2))),
      ],
      ['highest on the way, V', ...each(({ highestV }) => volts(highestV))],
      ['lowest on the way, V', ...each(({ lowestV }) => volts(lowestV))],
      ['settled, V', ...each(({ settledV }) => volts(settledV))],
    ],
    options,
  );
}

/** One chart a channel, up to a little after the last output has settled; a channel that does as the first is not drawn again. */
function charts({ channels, endS }: SettleAnswer, options: PageOptions): readonly (readonly string[])[] {
  const times = channels.map(({ settleS }) => settleS ?? endS);
  const until = Math.min(endS, 1.25 * Math.max(...times));
  const first = channels[0];
  const same = (channel: ChannelSettling): boolean =>
    first !== undefined && alike(channel.peakV, first.peakV) && alike(channel.settleS ?? endS, first.settleS ?? endS);
  const drawn = channels.filter((channel, n) => n === 0 || !same(channel));
  return drawn.map((channel) => {
    const alone = drawn.length === 1;
    const which = alone ? (channels.length > 1 ? ', every channel' : '') : `, ${channel.name} channel`;
    return [
      ...wrap(`The output${which}, from switch-on`, options.width),
      ...swingChart(channel.points, until, options),
    ];
  });
}

/** To a hundredth: less than a chart shows. */
function alike(a: number, b: number): boolean {
  return Math.abs(a - b) <= 0.01 * Math.max(Math.abs(a), Math.abs(b));
}

function parts(answer: SettleAnswer, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'left' },
    { align: 'point' },
    { align: 'point' },
    { align: 'point' },
  ];
  const rows = answer.parts.map(({ ref, between, highestV, lowestV, settledV }) => [
    ref,
    between,
    volts(highestV),
    volts(lowestV),
    volts(settledV),
  ]);
  return tableLines(columns, [['part, V', 'leads', 'highest', 'lowest', 'settled'], ...rows], options);
}

function remarks(
  { trouble, notes, rampS, steps, integrator }: SettleAnswer,
  { width }: PageOptions,
): readonly string[] {
  return [
    ...(trouble === null ? [] : hanging('Not at its bias: ', trouble, width)),
    ...wrap(`All rails rise together in ${quantity(rampS, 's', 2)} from 0 V; everything is discharged before.`, width),
    ...notes.flatMap((note) => wrap(note, width)),
    ...wrap(`Integrated by ${integrator}: ${steps.taken} steps, ${steps.rejected} rejected.`, width),
  ];
}
