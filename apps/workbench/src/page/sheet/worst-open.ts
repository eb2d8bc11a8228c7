import type { Finding, Level } from '@curvewright/verify';

/** The worst level of what counts and is not good; null where all is. */
export function worstOpen(findings: readonly Finding[]): Level | null {
  const levels = findings.filter(({ counts }) => counts).map(({ level }) => level);
  return (['fail', 'not measured', 'look'] as const).find((level) => levels.includes(level)) ?? null;
}
