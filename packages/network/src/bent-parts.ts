import type { Departure } from './departures.ts';
import { loadLine } from './load-line.ts';

/**
 * The nonlinear parts over the samples of one period, each instant on its load line, in storage made once. Samples of each control or port
 * lie together: number n of them begins at n · samples.
 */
export interface BentParts {
  readonly controls: number;
  readonly ports: number;
  /** V, open moves of the controls: what the functions below read. */
  readonly open: Float64Array;
  /** Departures of the ports, A and C: what they write. */
  readonly currents: Float64Array;
  readonly charges: Float64Array;
  /** V, moves of the controls where the instants last settled, samples × controls: where the next search begins. */
  readonly moves: Float64Array;
  /** Settles every instant, each control to within its `slack`; false where one did not settle. */
  settle(slack: Float64Array): boolean;
  /** Takes the slopes where the instants settled, for `follow`. */
  linearise(): void;
  /** What the ports do along those slopes when the open moves change by `open`. */
  follow(): void;
}

export function bentParts(parts: readonly Departure[], resistances: Float64Array, samples: number): BentParts {
  const line = loadLine(parts, resistances);
  const { controls, ports } = line;
  const open = new Float64Array(controls * samples);
  const currents = new Float64Array(ports * samples);
  const charges = new Float64Array(ports * samples);
  const moves = new Float64Array(samples * controls);
  /** Of every sample, ports × controls. */
  const currentSlopes = new Float64Array(samples * ports * controls);
  const chargeSlopes = new Float64Array(samples * ports * controls);
  const here = new Float64Array(controls);

  function settleFrom(n: number, slack: Float64Array): boolean {
    for (let c = 0; c < controls; c++) line.moves[c] = moves[n * controls + c]!;
    return line.settle(here, slack);
  }

  function settleAt(n: number, slack: Float64Array): boolean {
    for (let c = 0; c < controls; c++) here[c] = open[c * samples + n]!;
    const [earlier, later] = [(n + samples - 1) % samples, (n + 1) % samples];
    // Its neighbours may be past a jump that is new to it.
    if (!(settleFrom(n, slack) || settleFrom(earlier, slack) || settleFrom(later, slack))) return false;
    moves.set(line.moves, n * controls);
    for (let p = 0; p < ports; p++) {
      currents[p * samples + n] = line.currents[p]!;
      charges[p * samples + n] = line.charges[p]!;
    }
    return true;
  }

  return {
    controls,
    ports,
    open,
    currents,
    charges,
    moves,
    settle(slack) {
      for (let n = 0; n < samples; n++) if (!settleAt(n, slack)) return false;
      return true;
    },
    linearise() {
      for (let n = 0; n < samples; n++) {
        for (let c = 0; c < controls; c++) line.moves[c] = moves[n * controls + c]!;
        line.linearise(currentSlopes, chargeSlopes, n * ports * controls);
      }
    },
    follow() {
      for (let n = 0; n < samples; n++) {
        for (let c = 0; c < controls; c++) here[c] = open[c * samples + n]!;
        for (let p = 0; p < ports; p++) {
          const from = (n * ports + p) * controls;
          let amps = 0;
          let coulombs = 0;
          for (let c = 0; c < controls; c++) {
            amps += currentSlopes[from + c]! * here[c]!;
            coulombs += chargeSlopes[from + c]! * here[c]!;
          }
          currents[p * samples + n] = amps;
          charges[p * samples + n] = coulombs;
        }
      }
    },
  };
}
