import type { LoopMargin, PolePart, PoleRow, PolesAnswer, RootRow } from '@curvewright/verify';
import { wrap } from './cells.ts';
import { decimals, none, quantity, signed } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** A zero this near a pole, relative, shows in no response: on a board of two channels most are the other channel's. */
const cancelled = 0.01;

/** Whether the stage is stable, its least damped pairs and what moves them, the loop's margins; then every pole and zero. */
export function polesPage(answer: PolesAnswer, options: StagePageOptions): string {
  return stagePage(options, answer.stable ? 'stable' : 'unstable', (page) => [
    pairs(answer, page),
    loops(answer, page),
    poles(answer, page),
    zeros(answer, page),
    notes(answer, page),
  ]);
}

function pairs({ worst, subsonic, radio }: PolesAnswer, options: PageOptions): readonly string[] {
  const named: readonly (readonly [string, PoleRow | null])[] = [
    ['highest Q', worst],
    ['below 20 Hz', subsonic],
    ['above 100 kHz', radio],
  ];
  const columns: readonly Column[] = [
    { align: 'left' },
    { align: 'point' },
    { align: 'point' },
    { align: 'left', wraps: true },
  ];
  const rows = named.map(([label, pair]) =>
    pair === null ? [label, none, none, 'no pair'] : [label, quantity(pair.hz, 'Hz'), quality(pair), moved(pair.parts)],
  );
  const heads = ['pair', '', 'Q', '1 % more of a part moves frequency and Q, %'];
  return tableLines(columns, [heads, ...rows], options);
}

function quality({ q, realPerS }: RootRow): string {
  return q === null ? none : realPerS < 0 ? decimals(q, 2) : `${decimals(q, 2)} growing`;
}

function moved(parts: readonly PolePart[]): string {
  return parts
    .map(({ ref, hzPercentPerPercent: hz, qPercentPerPercent: q }) =>
      q === null ? `${ref} ${signed(hz, 2)}` : `${ref} ${signed(hz, 2)} ${signed(q, 2)}`,
    )
    .join(', ');
}

function loops({ loops: margins }: PolesAnswer, options: PageOptions): readonly string[] {
  if (margins.length === 0)
    return wrap('The board names no break point, so no margin; write loop: { lead: Q103.base }.', options.width);
  const columns: readonly Column[] = [{ align: 'left' }, ...[0, 1, 2, 3, 4].map((): Column => ({ align: 'point' }))];
  const heads = ['loop at', 'highest, dB', 'unity at', 'margin, °', '−1 at', 'margin, dB'];
  const rows = margins.map((margin: LoopMargin) => [
    margin.channel === null ? margin.lead : `${margin.lead}, ${margin.channel}`,
    decimals(margin.highestDb, 1),
    quantity(margin.unityHz ?? NaN, 'Hz'),
    decimals(margin.marginDeg ?? NaN, 1),
    quantity(margin.gainMarginHz ?? NaN, 'Hz'),
    decimals(margin.gainMarginDb ?? NaN, 1),
  ]);
  return tableLines(columns, [heads, ...rows], options);
}

function poles({ poles: all }: PolesAnswer, options: PageOptions): readonly string[] {
  const columns: readonly Column[] = [
    { align: 'point' },
    { align: 'point' },
    { align: 'point' },
    { align: 'left', gap: 3, wraps: true },
  ];
  const rows = all
    .filter(({ imagPerS }) => imagPerS >= 0)
    .map((pole) => [
      quantity(pole.hz, 'Hz'),
      pole.imagPerS === 0 ? '' : quality(pole),
      timeOf(pole),
      pole.parts.map(({ ref }) => ref).join(' '),
    ]);
  return tableLines(columns, [['pole', 'Q', 'dies away in', 'moved most by'], ...rows], options);
}

/** 1/|Re s|: to 1/e. */
function timeOf({ realPerS }: RootRow): string {
  return realPerS < 0 ? quantity(-1 / realPerS, 's') : none;
}

function zeros({ zeros: all, poles: among }: PolesAnswer, options: PageOptions): readonly string[] {
  const channels = [...new Set(all.map(({ channel }) => channel))];
  return channels.flatMap((channel) => {
    const shown = all.filter(
      (zero) => zero.channel === channel && zero.imagPerS >= 0 && !among.some((pole) => near(zero, pole)),
    );
    const texts = shown.map((zero) => {
      const sharp = zero.q === null ? '' : ` (Q ${decimals(zero.q, 2)})`;
      return `${zero.hz === 0 ? '0 Hz' : quantity(zero.hz, 'Hz')}${sharp}${zero.realPerS > 0 ? ' right half' : ''}`;
    });
    return wrap(`Zeros, ${channel}: ${texts.length === 0 ? 'none' : texts.join(', ')}.`, options.width);
  });
}

function near(a: RootRow, b: RootRow): boolean {
  return Math.hypot(a.realPerS - b.realPerS, a.imagPerS - b.imagPerS) <= cancelled * Math.hypot(b.realPerS, b.imagPerS);
}

function notes({ notes: said, checks, source }: PolesAnswer, { width }: PageOptions): readonly string[] {
  return [
    ...wrap(`Input ${source}. ${said.join(' ')}`.trim(), width),
    ...wrap(
      'Zeros that a pole cancels to 1 % are not shown. Wiring and stray capacitance are not on the board and not in the answer.',
      width,
    ),
    ...wrap(
      `${checks.count} poles of ${checks.rank} independent capacitances and inductances; their equations leave ${checks.largestResidual.toExponential(0)} of a pole.`,
      width,
    ),
    ...wrap('Computed from the files; nothing was measured.', width),
  ];
}
