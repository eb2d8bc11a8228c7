import type { Part } from './circuit.ts';
import { isBipolar } from './fault-mismatch.ts';
import type { FaultName, PulledEntry } from './schema/swap-schema.ts';

/** What a job says is wrong with a pulled part and gives no figure for, so that no computation takes it up. */
export function pulledNotes(part: Part, entry: PulledEntry): readonly string[] {
  const bipolar = isBipolar(part);
  const figures: Partial<Record<FaultName, readonly [given: unknown, wanted: string | null]>> = {
    dried: [entry.value ?? entry.esr, part.kind === 'capacitor' ? 'value or esr' : null],
    leaky: bipolar ? [entry.ICBO, 'ICBO'] : [entry.leakage, part.kind === 'capacitor' ? 'leakage' : null],
    noisy: bipolar
      ? [entry.noise_corner, 'noise_corner']
      : [entry.noise_index, part.kind === 'resistor' ? 'noise_index' : null],
    intermittent: [entry.contact, null],
  };
  return (entry.faults ?? []).flatMap((fault) => {
    const [given, wanted] = figures[fault] ?? ['in the fault itself', null];
    if (given !== undefined) return [];
    return [`${part.ref}: ${fault}${wanted === null ? '' : `, with no ${wanted} stated`}; kept, not computed`];
  });
}
