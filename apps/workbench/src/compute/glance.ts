import { verdictSteps, type Steps } from '@curvewright/verify';
import type { Glance, SubjectText } from '../contract/compute.ts';
import { layOut } from './bench.ts';

/** Title and verdict of a subject, read and solved for itself. */
export function* glanceSteps(text: SubjectText): Steps<Glance> {
  const { revision } = text;
  const laid = layOut(text, null);
  if (!laid.ok) return { revision, ok: false, diagnostics: laid.diagnostics };
  yield 0.1;
  const { staged } = laid.value;
  return { revision, ok: true, title: staged.title, verdict: yield* verdictSteps(staged) };
}
