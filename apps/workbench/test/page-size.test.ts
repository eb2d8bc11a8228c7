import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import config from '../vite.config.ts';

interface BuiltFile {
  readonly name: string;
  readonly text: string;
  /** As it is sent: fonts are packed in themselves. */
  readonly bytes: number;
}

/** Files that a file needs before it can do its work: not what it fetches later by import(). */
function namesIn({ name, text }: BuiltFile): readonly string[] {
  const pattern = name.endsWith('.js')
    ? /(?:^|[;}\n])(?:import|export)(?:[^"'`();]*?from)?\s*["'](\.[^"'`]+)["']|new URL\(\s*["'`]([^"'`]+)["'`]\s*,/g
    : /(?:src|href)="([^"]+)"|url\(["']?([^)"']+\.woff2)["']?\)/g;
  return [...text.matchAll(pattern)].map(([, first, second]) => basename(first ?? second ?? ''));
}

function neededFirst(files: readonly BuiltFile[]): ReadonlySet<BuiltFile> {
  const byName = new Map(files.map((file) => [file.name, file]));
  const needed = new Set(files.filter(({ name }) => name === 'index.html'));
  for (const file of needed) {
    for (const name of namesIn(file)) {
      const next = byName.get(name);
      if (next !== undefined) needed.add(next);
    }
  }
  return needed;
}

describe('the built page', () => {
  const folder = mkdtempSync(join(tmpdir(), 'bench-page-'));
  const files: BuiltFile[] = [];

  beforeAll(async () => {
    await build({ ...config, configFile: false, logLevel: 'silent', build: { ...config.build, outDir: folder } });
    for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
      if (!entry.isFile()) continue;
      const content = readFileSync(join(entry.parentPath, entry.name));
      const bytes = entry.name.endsWith('.woff2') ? content.length : gzipSync(content, { level: 9 }).length;
      files.push({ name: entry.name, text: content.toString('utf8'), bytes });
    }
  }, 120_000);
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });

  it('needs less than 200 kB over the wire before Plotly', () => {
    const needed = neededFirst(files);
    const line = ({ name, bytes }: BuiltFile): string => `${(bytes / 1000).toFixed(1).padStart(8)} kB  ${name}`;
    const later = files.filter((file) => !needed.has(file) && /\.(js|css)$/.test(file.name));
    const total = [...needed].reduce((sum, { bytes }) => sum + bytes, 0);
    const table = [
      ...[...needed].map(line),
      `${(total / 1000).toFixed(1).padStart(8)} kB  in all`,
      'later:',
      ...later.map(line),
    ];
    console.log(table.join('\n'));

    const kinds = new Set([...needed].map(({ name }) => name.split('.').at(-1)));
    for (const kind of ['css', 'html', 'js', 'woff2']) expect(kinds).toContain(kind);
    expect([...needed].filter(({ name }) => name.startsWith('worker')).length).toBe(1);
    expect([...needed].filter(({ name }) => name.includes('plotly'))).toEqual([]);
    expect(total).toBeLessThan(200_000);
  });
});
