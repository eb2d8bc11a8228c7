import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const home = mkdtempSync(join(tmpdir(), 'curvewright-guides-'));
afterAll(() => {
  rmSync(home, { recursive: true });
});

interface Step {
  readonly command: string;
  /** What it prints, `…` for anything; null where the guide does not show it. */
  readonly printed: string | null;
}

/** The shell blocks of a guide, each with the text block that follows it. */
function stepsOf(guide: string): readonly Step[] {
  const blocks = [...guide.matchAll(/^```(sh|text)\n([^]*?)^```$/gm)].map(([, kind, text = '']) => ({ kind, text }));
  return blocks.flatMap(({ kind, text }, n) => {
    const next = blocks[n + 1];
    return kind === 'sh' ? [{ command: text, printed: next?.kind === 'text' ? next.text : null }] : [];
  });
}

/** A line of `…` stands for any lines, `…` inside one for the rest of it. */
function patternOf(printed: string): RegExp {
  const literal = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  const lines = printed.split('\n').map((line) => (line === '…' ? '[^]*' : line.split('…').map(literal).join('.*')));
  return new RegExp(`^${lines.join('\n').replaceAll('\n[^]*\n', '\n(?:[^]*\n)?')}$`);
}

describe('the guide to the first job', () => {
  const guide = readFileSync(join(root, 'shared/guides/first-job.md'), 'utf8');
  const [tool, ...steps] = stepsOf(guide);

  it('begins with the tool from a checkout, as it stands here', () => {
    const files = tool?.command.match(/~\/curvewright\/[\w./-]+/g) ?? [];
    expect(files.length).toBe(2);
    for (const file of files) expect(existsSync(file.replace('~/curvewright', root)), file).toBe(true);
  });

  it.each(steps.map((step, n) => [n + 1, step] as const))(
    'step %i does and prints what it says',
    (_, { command, printed }) => {
      const define = (tool?.command ?? '').replaceAll('~/curvewright', root);
      const ran = spawnSync('bash', ['-ec', `${define}\n${command}`], { cwd: home, encoding: 'utf8' });
      expect([ran.status, ran.stderr]).toEqual([0, '']);
      if (printed === null) expect(ran.stdout).toBe('');
      else expect(ran.stdout).toMatch(patternOf(printed));
    },
    120_000,
  );

  it('ends with what it promises', () => {
    for (const file of ['lk-test.proof.html', 'lk-test.proof.json', 'lk-test.rework.html'])
      expect(existsSync(join(home, file)), file).toBe(true);
    expect(readFileSync(join(home, 'lk-test.proof.html'), 'utf8')).toContain('Bench on the Corner');
  });
});
