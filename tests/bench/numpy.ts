import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { benchFrequencies, type BenchCase } from './demo-cases.ts';

/** NumPy in a child process started once, one BLAS thread. */
export interface Numpy {
  readonly version: string;
  readonly blas: string;
  /** Seconds for a count of boards of one case, all bench frequencies each. */
  time(number: number, boards: number): Promise<number>;
  end(): void;
}

/** Null where there is no python3 or it has no NumPy. */
export async function startNumpy(cases: readonly BenchCase[]): Promise<Numpy | null> {
  const oneThread = Object.fromEntries(
    ['OPENBLAS_NUM_THREADS', 'OMP_NUM_THREADS', 'MKL_NUM_THREADS', 'BLIS_NUM_THREADS'].map((name) => [name, '1']),
  );
  const child = spawn('python3', [new URL('numpy_solves.py', import.meta.url).pathname], {
    env: { ...process.env, ...oneThread },
    stdio: ['pipe', 'pipe', 'ignore'],
  });
  const ended = new Promise<null>((resolve) => {
    child.on('error', () => {
      resolve(null);
    });
    child.on('close', () => {
      resolve(null);
    });
  });
  child.stdin.on('error', () => undefined);
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const answer = async (): Promise<unknown> => {
    const line = await Promise.race([lines.next(), ended]);
    return line === null || line.done ? null : (JSON.parse(line.value) as unknown);
  };
  const setup = {
    frequencies: [...benchFrequencies],
    cases: cases.map(({ pattern, boards, entry }) => ({
      size: pattern.size,
      entry,
      rows: [...pattern.rows],
      columns: [...pattern.columns],
      boards: boards.map(({ conductance, capacitance, loss }) => ({
        conductance: [...conductance],
        capacitance: [...capacitance],
        loss: [...loss],
      })),
    })),
  };
  child.stdin.write(`${JSON.stringify(setup)}\n`);
  const hello = (await answer()) as { numpy: string; blas: string } | null;
  if (hello === null) return null;
  return {
    version: hello.numpy,
    blas: hello.blas,
    async time(number, boards) {
      child.stdin.write(`${number} ${boards}\n`);
      const told = (await answer()) as { seconds: number } | null;
      if (told === null) throw new Error('NumPy went away');
      return told.seconds;
    },
    end: () => child.stdin.end(),
  };
}
