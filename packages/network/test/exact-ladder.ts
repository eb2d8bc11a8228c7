/** Whole numbers of 1e-80: sixty digits and more of every value of a ladder. */
const one = 10n ** 80n;

function exact(value: number): bigint {
  const [digits = '', power = ''] = value.toExponential(20).split('e');
  return BigInt(digits.replace('.', '')) * 10n ** BigInt(80 + Number(power) - 20);
}

const times = (a: bigint, b: bigint): bigint => (a * b) / one;

function sum(a: readonly bigint[], b: readonly bigint[]): bigint[] {
  return Array.from({ length: Math.max(a.length, b.length) }, (_, n) => (a[n] ?? 0n) + (b[n] ?? 0n));
}

/**
 * The voltage at the input over that at the open end of an RC ladder, as coefficients of 1, s, s² …: section by section from the end, every
 * coefficient a sum of positive terms. Its roots are the ladder's poles. `sections` are Ω in series and F to gnd, from the input on.
 */
export function ladderPolynomial(sections: readonly (readonly [number, number])[]): readonly bigint[] {
  let volts = [one];
  let amps = [0n];
  for (const [ohms, farads] of sections.toReversed()) {
    amps = sum(amps, [0n, ...volts.map((v) => times(v, exact(farads)))]);
    volts = sum(
      volts,
      amps.map((i) => times(i, exact(ohms))),
    );
  }
  return volts;
}

/** How far Newton's method steps from s: to first order the distance to the root. */
export function newtonStep(polynomial: readonly bigint[], s: number): number {
  const at = (coefficients: readonly bigint[]): bigint =>
    coefficients.reduceRight((total, coefficient) => times(total, exact(s)) + coefficient, 0n);
  const slope = at(polynomial.slice(1).map((coefficient, n) => coefficient * BigInt(n + 1)));
  return Number((at(polynomial) * one) / slope) / 1e80;
}
