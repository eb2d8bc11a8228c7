/**
 * Solves A x = b where A is known only by what it does to a vector, by the generalised minimal residual method without restarts (Saad &
 * Schultz, SIAM J. Sci. Stat. Comput. 7, 1986; modified Gram–Schmidt and Givens rotations). All storage is made once.
 */
export interface Gmres {
  readonly size: number;
  /**
   * Writes x (from 0) for `b`; `apply(v, target)` writes A v into target and leaves v alone. Ends at a residual of `tolerance` times |b| or
   * after the most steps it has room for; returns the steps it took.
   */
  solve(
    apply: (v: Float64Array, target: Float64Array) => void,
    b: Float64Array,
    x: Float64Array,
    tolerance: number,
  ): number;
}

export function gmres(size: number, mostSteps: number): Gmres {
  const basis = Array.from({ length: mostSteps + 1 }, () => new Float64Array(size));
  /** Column n holds the coefficients of the (n + 1)-th step, already rotated to upper triangular form. */
  const triangle = Array.from({ length: mostSteps }, () => new Float64Array(mostSteps + 1));
  const cosines = new Float64Array(mostSteps);
  const sines = new Float64Array(mostSteps);
  const rest = new Float64Array(mostSteps + 1);

  function rotate(column: Float64Array, n: number): void {
    for (let i = 0; i < n; i++) {
      const [upper, lower] = [column[i]!, column[i + 1]!];
      column[i] = cosines[i]! * upper + sines[i]! * lower;
      column[i + 1] = cosines[i]! * lower - sines[i]! * upper;
    }
    const [upper, lower] = [column[n]!, column[n + 1]!];
    const length = Math.hypot(upper, lower);
    cosines[n] = length > 0 ? upper / length : 1;
    sines[n] = length > 0 ? lower / length : 0;
    column[n] = length;
    column[n + 1] = 0;
    rest[n + 1] = -sines[n] * rest[n]!;
    rest[n] = cosines[n] * rest[n]!;
  }

  function combine(x: Float64Array, steps: number): void {
    for (let i = steps - 1; i >= 0; i--) {
      let sum = rest[i]!;
      for (let j = i + 1; j < steps; j++) sum -= triangle[j]![i]! * rest[j]!;
      rest[i] = triangle[i]![i] === 0 ? 0 : sum / triangle[i]![i]!;
    }
    for (let i = 0; i < steps; i++) addTimes(x, rest[i]!, basis[i]!);
  }

  return {
    size,
    solve(apply, b, x, tolerance) {
      x.fill(0);
      const whole = Math.sqrt(dot(b, b));
      if (whole === 0) return 0;
      scaleInto(basis[0]!, b, 1 / whole);
      rest.fill(0);
      rest[0] = whole;
      let steps = 0;
      while (steps < mostSteps && Math.abs(rest[steps]!) > tolerance * whole) {
        const next = basis[steps + 1]!;
        const column = triangle[steps]!;
        apply(basis[steps]!, next);
        for (let i = 0; i <= steps; i++) {
          column[i] = dot(next, basis[i]!);
          addTimes(next, -column[i]!, basis[i]!);
        }
        const length = Math.sqrt(dot(next, next));
        column[steps + 1] = length;
        rotate(column, steps);
        steps++;
        if (length === 0) break;
        scaleInto(next, next, 1 / length);
      }
      combine(x, steps);
      return steps;
    },
  };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function addTimes(target: Float64Array, factor: number, a: Float64Array): void {
  for (let i = 0; i < target.length; i++) target[i] = target[i]! + factor * a[i]!;
}

function scaleInto(target: Float64Array, a: Float64Array, factor: number): void {
  for (let i = 0; i < target.length; i++) target[i] = factor * a[i]!;
}
