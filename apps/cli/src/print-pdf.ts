import { spawn } from 'node:child_process';
import { accessSync, constants, mkdtempSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

/** What the program is called where it is installed. */
const names = ['chromium', 'chromium-browser'] as const;

/** ms until a page that is not printed by then is given up. */
const patience = 60_000;

/** Prints an HTML file by the browser that `CHROMIUM` names, or one of the path; what went wrong, or null. */
export async function printPdf(html: string, pdf: string): Promise<string | null> {
  const program = process.env.CHROMIUM ?? installed();
  if (program === null)
    return `is not written: no ${names.join(' or ')} is installed; name one in CHROMIUM, or print ${html} from any browser`;
  const folder = mkdtempSync(join(tmpdir(), 'curvewright-print-'));
  try {
    const printed = join(folder, 'sheet.pdf');
    const trouble = await run(program, [
      '--headless',
      '--disable-gpu',
      // Its sandbox refuses the administrator; the page holds no script.
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      `--user-data-dir=${join(folder, 'profile')}`,
      '--no-pdf-header-footer',
      `--print-to-pdf=${printed}`,
      pathToFileURL(resolve(html)).href,
    ]);
    if (trouble === null) renameSync(printed, pdf);
    return trouble;
  } catch (trouble) {
    return `is not written: ${trouble instanceof Error ? trouble.message : String(trouble)}`;
  } finally {
    rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}

function installed(): string | null {
  const folders = (process.env.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  const places = folders.flatMap((folder) => names.map((name) => join(folder, name)));
  return places.find(isProgram) ?? null;
}

function isProgram(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

function run(program: string, words: readonly string[]): Promise<string | null> {
  return new Promise((end) => {
    const child = spawn(program, words, { stdio: 'ignore', timeout: patience });
    child.on('error', ({ message }) => {
      end(`is not written: ${program} cannot be started: ${message}`);
    });
    child.on('exit', (status) => {
      end(status === 0 ? null : `is not written: ${program} ended with ${status ?? 'a signal'}`);
    });
  });
}
