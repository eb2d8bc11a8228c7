/** An adapter as a person knows it who has no drawing of it: resistive, seen from both sides. */
export interface StatedAdapter {
  /** Open voltage out of it over voltage into it is 1 / `ratio`. */
  readonly ratio: number;
  /** Ω into it, nothing connected behind it. */
  readonly inputOhms: number;
  /** Ω back into it, its input shorted. */
  readonly outputOhms: number;
}

/**
 * Gain in dB between a generator's open voltage and a load, both impedances in Ω. The three statements make a reciprocal two-port: z11 = Rin,
 * z21 = z12 = Rin/ratio, z22 = Rout + z21²/z11; loaded at both ends its voltage is z21·RL / ((Rg + z11)(RL + z22) − z21²).
 */
export function statedAdapterDb(
  { ratio, inputOhms, outputOhms }: StatedAdapter,
  generator: number,
  load: number,
): number {
  const z21 = inputOhms / ratio;
  const z22 = outputOhms + z21 ** 2 / inputOhms;
  return 20 * Math.log10((z21 * load) / ((generator + inputOhms) * (load + z22) - z21 ** 2));
}
