import type { SlopeWindow } from './bent-samples.ts';
import { departureValues, type Departure } from './departures.ts';

/**
 * The nonlinear parts over the samples of one period, in storage made once. Samples of each control or port lie together: number n of them
 * begins at n · samples.
 */
export interface BentParts {
  readonly controls: number;
  readonly ports: number;
  readonly windows: readonly SlopeWindow[];
  /** V of the controls, as moves from the bias: what the functions below read. */
  readonly swings: Float64Array;
  /** Departures of the ports, A and C: what they write. */
  readonly currents: Float64Array;
  readonly charges: Float64Array;
  /** Linearises every part where the controls' samples stand. */
  anchor(): void;
  /** The same, each part holding its samples to what its exponentials bear of the step from the anchors before; true where one did. */
  accept(): boolean;
  /** Departures along the tangents at the anchors, and the slopes there. */
  bend(): void;
  /** What the ports do along those slopes when the controls move by `swings`. */
  follow(): void;
}

export function bentParts(parts: readonly Departure[], samples: number): BentParts {
  let control = 0;
  let port = 0;
  const windows = parts.map((part) => {
    const window = {
      part,
      control,
      controls: part.controls.length,
      port,
      ports: part.ports.length,
      values: departureValues(part),
      at: new Float64Array(part.controls.length),
      to: new Float64Array(part.controls.length),
      /** For every sample the slopes of currents and of charges. */
      currentSlopes: new Float64Array(samples * part.ports.length * part.controls.length),
      chargeSlopes: new Float64Array(samples * part.ports.length * part.controls.length),
    };
    control += window.controls;
    port += window.ports;
    return window;
  });

  const swings = new Float64Array(control * samples);
  const anchors = new Float64Array(control * samples);
  const currents = new Float64Array(port * samples);
  const charges = new Float64Array(port * samples);

  function bend(): void {
    for (const { part, control, controls, port, ports, values, at, currentSlopes, chargeSlopes } of windows) {
      const slopes = ports * controls;
      for (let n = 0; n < samples; n++) {
        for (let c = 0; c < controls; c++) at[c] = anchors[(control + c) * samples + n]!;
        part.evaluate(at, values);
        for (let p = 0; p < ports; p++) {
          let amps = values.currents[p]!;
          let coulombs = values.charges[p]!;
          for (let c = 0; c < controls; c++) {
            const beyond = swings[(control + c) * samples + n]! - at[c]!;
            amps += values.currentSlopes[p * controls + c]! * beyond;
            coulombs += values.chargeSlopes[p * controls + c]! * beyond;
          }
          currents[(port + p) * samples + n] = amps;
          charges[(port + p) * samples + n] = coulombs;
        }
        currentSlopes.set(values.currentSlopes, n * slopes);
        chargeSlopes.set(values.chargeSlopes, n * slopes);
      }
    }
  }

  function follow(): void {
    for (const { control, controls, port, ports, currentSlopes, chargeSlopes } of windows) {
      for (let p = 0; p < ports; p++) {
        for (let n = 0; n < samples; n++) {
          let amps = 0;
          let coulombs = 0;
          for (let c = 0; c < controls; c++) {
            const k = (n * ports + p) * controls + c;
            const swing = swings[(control + c) * samples + n]!;
            amps += currentSlopes[k]! * swing;
            coulombs += chargeSlopes[k]! * swing;
          }
          currents[(port + p) * samples + n] = amps;
          charges[(port + p) * samples + n] = coulombs;
        }
      }
    }
  }

  function accept(): boolean {
    let held = false;
    for (const { part, control, controls, at, to } of windows) {
      for (let n = 0; n < samples; n++) {
        for (let c = 0; c < controls; c++) {
          at[c] = anchors[(control + c) * samples + n]!;
          to[c] = swings[(control + c) * samples + n]!;
        }
        if (part.limit(to, at)) held = true;
        for (let c = 0; c < controls; c++) anchors[(control + c) * samples + n] = to[c]!;
      }
    }
    return held;
  }

  return {
    controls: control,
    ports: port,
    windows,
    swings,
    currents,
    charges,
    anchor() {
      anchors.set(swings);
    },
    accept,
    bend,
    follow,
  };
}
