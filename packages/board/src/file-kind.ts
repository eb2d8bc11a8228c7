import { readYaml } from './read-yaml.ts';

/** Whether a text is written as a job (it has a key `job`) or, failing that, as a board. */
export function fileKind(text: string): 'board' | 'job' {
  const { value } = readYaml(text, '');
  return typeof value === 'object' && value !== null && Object.hasOwn(value, 'job') ? 'job' : 'board';
}
