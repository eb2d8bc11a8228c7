import { describeFault } from './describe-fault.ts';
import { describeParts } from './describe-part.ts';
import type { Standing } from './job.ts';

/** What stands in a position and what is wrong there: `0.91 µF tantalum, ESR 11 Ω, leakage 1.5 MΩ`. */
export function describeStanding({ parts, faults }: Pick<Standing, 'parts' | 'faults'>): string {
  const wrong = parts.flatMap((part) => faults.map((fault) => describeFault(part, fault)));
  return [describeParts(parts), ...wrong].join(', ');
}
