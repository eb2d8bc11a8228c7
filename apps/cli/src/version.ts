import { readFileSync } from 'node:fs';

/** The program's, as its package says. */
export function programVersion(): string {
  const { version } = JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8')) as {
    version: string;
  };
  return version;
}
