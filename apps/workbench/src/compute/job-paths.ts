import { readYaml } from '@curvewright/board';
import type { TextOf } from '../contract/sheet.ts';

/** The board a job's text names, as a path in the bench's folder; null where it names none inside it. */
export function boardOfJob({ path, text }: TextOf): string | null {
  const { value } = readYaml(text, path);
  const named = typeof value === 'object' && value !== null && 'board' in value ? value.board : null;
  if (typeof named !== 'string' || named === '' || /^([/\\]|[A-Za-z]:)/.test(named)) return null;
  return joined([...foldersOf(path), ...named.split(/[/\\]/)]);
}

/** Folders on the way to a file, from the outermost. */
export function foldersOf(path: string): readonly string[] {
  return path.split('/').slice(0, -1);
}

/** Null where the steps lead out of the folder they begin in, or nowhere. */
function joined(steps: readonly string[]): string | null {
  const whole: string[] = [];
  for (const step of steps) {
    if (step === '' || step === '.') continue;
    if (step !== '..') whole.push(step);
    else if (whole.pop() === undefined) return null;
  }
  return whole.length === 0 ? null : whole.join('/');
}
