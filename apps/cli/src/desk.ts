import { createInterface } from 'node:readline';

/** Where a verb's words go, and how much room there is for them. */
export interface Desk {
  out(text: string): void;
  complain(text: string): void;
  /** Says how far long work has come, in place of what it said before; nothing clears it. Silent where nobody watches. */
  progress(text: string): void;
  /** The line that the person writes; empty where nobody answers. */
  ask(question: string): Promise<string>;
  /** Columns. */
  readonly width: number;
  readonly colour: boolean;
  /** Somebody sits there: a terminal, and no automatic run. */
  readonly attended: boolean;
}

/** Columns used where the terminal does not say how many it has, and the most that a page takes. */
const usual = 100;
const widest = 110;

/** Asks at the terminal, one line an answer; lines that come early wait for their question. */
function asker(): Desk['ask'] {
  let lines: AsyncIterator<string, undefined> | null = null;
  return async (question) => {
    const { stdin, stdout } = process;
    lines ??= createInterface({ input: stdin, output: stdout })[Symbol.asyncIterator]();
    stdout.write(question);
    stdin.ref();
    const { value, done }: IteratorResult<string, undefined> = await lines.next();
    // Nobody is asked for the moment: the process may end.
    stdin.unref();
    return done === true ? '' : value;
  };
}

export function terminalDesk(): Desk {
  const { stdout, stderr } = process;
  return {
    out: (text) => void stdout.write(text.endsWith('\n') ? text : `${text}\n`),
    complain: (text) => void stderr.write(text.endsWith('\n') ? text : `${text}\n`),
    progress: (text) => void (stderr.isTTY && stderr.write(`\r\u001b[2K${text}`)),
    ask: asker(),
    width: Math.min(stdout.isTTY ? stdout.columns : usual, widest),
    colour: stdout.isTTY && process.env.NO_COLOR === undefined,
    attended: stdout.isTTY && process.env.CI === undefined,
  };
}
