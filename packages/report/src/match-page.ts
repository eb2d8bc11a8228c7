import type { Difference, MatchAnswer } from '@curvewright/verify';
import { wrap } from './cells.ts';
import { change, decimals, frequency, none, signed } from './numbers.ts';
import type { PageOptions } from './page-options.ts';
import { stagePage, type StagePageOptions } from './stage-page.ts';
import { tableLines, type Column } from './table.ts';

/** The sets of pieces with which the channels are most alike, and whether sorting is worth it. */
export function matchPage(answer: MatchAnswer, options: StagePageOptions): string {
  return stagePage(options, `pieces for ${answer.refs.join(', ')}`, (page) => [
    sets(answer, page),
    [...wrap(worth(answer), page.width), ...wrap(method(answer), page.width)],
  ]);
}

function sets(
  { refs, sets: ranked, before, channels: [first, last] }: MatchAnswer,
  page: PageOptions,
): readonly string[] {
  if (ranked.length === 0)
    return wrap(`The bag holds fewer than the ${refs.length} usable pieces that are wanted.`, page.width);
  const columns: readonly Column[] = [
    { align: 'right' },
    ...refs.map((): Column => ({ align: 'left' })),
    { align: 'point' },
    { align: 'right' },
    { align: 'right' },
    { align: 'left', gap: 1 },
  ];
  const figures = ({ differenceDb, hz, biasMv, node }: Difference): readonly string[] => [
    signed(differenceDb, 3),
    Math.abs(differenceDb) < 5e-4 ? none : frequency(hz),
    biasWords(biasMv),
    node === null || biasWords(biasMv) === noBias ? '' : `at ${node}`,
  ];
  return tableLines(
    columns,
    [
      ['', ...refs, `${first} over ${last} dB`, 'at', 'bias', ''],
      ...ranked.map((set, n) => [String(n + 1), ...set.pieces.map(({ piece }) => piece), ...figures(set)]),
      ['', ...refs.map((_, n) => (n === 0 ? 'as it stands' : none)), ...figures(before)],
    ],
    page,
  );
}

const noBias = '0 V';

/** Below a microvolt is what rounding leaves. */
function biasWords(mv: number): string {
  return Math.abs(mv) < 1e-3 ? noBias : change(mv / 1000, 'V');
}

function worth({ refs, any, worthSorting }: MatchAnswer): string {
  const bias = biasWords(any.biasMv);
  const volts = bias === noBias ? '' : `, and by ${bias.replace('+', '')} at any node`;
  const all = `Any ${refs.length === 2 ? 'two' : refs.length} of these differ by at most ${decimals(any.differenceDb, 3)} dB between the channels${volts}`;
  return worthSorting
    ? `${all}: sorting is worth it here.`
    : `${all}: the curve does not ask for sorting here; take any.`;
}

function method({ search: { pieces, ways, solved, missDb, complete }, leftOut }: MatchAnswer): string {
  const out = leftOut.length === 0 ? '' : ` No bias with ${leftOut.join(', ')}: left out.`;
  if (solved === ways) return `All ${ways} ways to place ${pieces} pieces were solved on the board.${out}`;
  const rest = complete
    ? 'none of the others comes near those listed'
    : 'others may be better than those listed, by no more than twice that as far as was seen';
  return `${pieces} pieces, ${ways} ways to place them: ${solved} were solved on the board, the others taken as the sum of what each piece does alone, which missed those solved by at most ${missDb.toExponential(0)} dB; ${rest}.${out}`;
}
