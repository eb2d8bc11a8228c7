import type { Part } from '@curvewright/board';
import { quotient, type Eigenpair } from './eigenpair.ts';
import type { Eigenvalue } from './pencil-eigenvalues.ts';
import type { Pair, TermKind } from './small-signal-terms.ts';
import type { StateBasis, Term } from './state-basis.ts';

/** A term's part in a pole. */
export interface TermShare extends Term {
  /** leftᵀ·(its part of G or C)·right. */
  readonly share: Eigenvalue;
}

/** Term by term, from differences of voltages: small ones across large conductances lose nothing that large ones at their ends would. */
export function termShares(basis: StateBasis, { right, left }: Eigenpair): readonly TermShare[] {
  const [x, w] = [basis.toUnknowns(right), basis.toUnknowns(left)];
  const across = (v: Float64Array, [a, b]: Pair): Eigenvalue => ({
    re: (a < 0 ? 0 : v[2 * a]!) - (b < 0 ? 0 : v[2 * b]!),
    im: (a < 0 ? 0 : v[2 * a + 1]!) - (b < 0 ? 0 : v[2 * b + 1]!),
  });
  return basis.terms.map((term) => {
    const { re, im } = times(across(w, term.row), across(x, term.column));
    return { ...term, share: { re: term.value * re, im: term.value * im } };
  });
}

/**
 * −Σ(terms of G) / Σ(terms of C), the two-sided Rayleigh quotient once more: to first order free of the rounding of the vectors, which the
 * product with an assembled matrix is not.
 */
export function quotientOfTerms({ s, settled }: Eigenpair, shares: readonly TermShare[]): Eigenvalue {
  if (!settled) return s;
  const [flow, storage] = (['conductance', 'capacitance'] as const).map((wanted) =>
    shares.reduce(
      (sum, { kind, share }) => (kind === wanted ? { re: sum.re + share.re, im: sum.im + share.im } : sum),
      { re: 0, im: 0 },
    ),
  ) as [Eigenvalue, Eigenvalue];
  const { re, im } = quotient(flow, storage);
  return { re: -re, im: s.im === 0 ? 0 : -im };
}

/** ds = −leftᵀ(dG + s·dC)right / leftᵀ·C·right for each part. */
export function sensitivitiesOf(
  shares: readonly TermShare[],
  parts: ReadonlyMap<string, Part>,
  { s, norm }: Eigenpair,
): ReadonlyMap<string, Eigenvalue> {
  const moves = new Map<string, Eigenvalue>();
  for (const { kind, ref, share } of shares) {
    const part = parts.get(ref);
    const power = part === undefined ? 0 : powerOf(part, kind);
    if (power === 0) continue;
    const { re, im } = kind === 'capacitance' ? times(share, s) : share;
    const sum = moves.get(ref) ?? { re: 0, im: 0 };
    moves.set(ref, { re: sum.re - power * re, im: sum.im - power * im });
  }
  const scale = times(s, norm);
  return new Map([...moves].map(([ref, sum]) => [ref, quotient(sum, scale)]));
}

/** The power of the part's value to which a term of it goes. */
function powerOf(part: Part, kind: TermKind): number {
  switch (part.kind) {
    case 'resistor':
    case 'trimmer':
      return kind === 'conductance' ? -1 : 0;
    case 'capacitor':
    case 'inductor':
      return kind === 'capacitance' ? 1 : 0;
    case 'switch':
      return 0;
    case 'typed':
      if (part.type.kind !== 'opamp') return 1;
      return kind === 'capacitance' ? -1 : 0;
  }
}

function times(a: Eigenvalue, b: Eigenvalue): Eigenvalue {
  return { re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re };
}
