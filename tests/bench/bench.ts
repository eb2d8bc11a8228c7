import { readFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { demoCases, benchFrequencies, type BenchCase } from './demo-cases.ts';
import { startNumpy, type Numpy } from './numpy.ts';
import {
  engineSolver,
  engineSweep,
  mathjsSolver,
  mlMatrixSolver,
  worstEngineError,
  type BoardSolver,
} from './solvers.ts';
import { endBoardThreads, startBoardThreads } from '../../apps/cli/src/spread-workers.ts';
import { demoSpread, sliderMoves, spreadSeconds } from './stage-timings.ts';

/** Rounds in which every solver has its turn; what is told is the median over them, ratios taken round by round. */
const rounds = 9;

interface CaseResult {
  readonly name: string;
  readonly unknowns: number;
  readonly usPerSolve: {
    readonly engine: number;
    readonly mlMatrix: number;
    readonly mathjs: number;
    readonly numpy?: number;
  };
  readonly ratioToNumpy?: number;
  readonly ratioToMlMatrix: number;
  readonly maxRelativeError: number;
}

let sink = 0;

/** µs per solve of `boards` boards, each solved at every `stride`-th bench frequency. */
function perSolve(solver: BoardSolver, boards: number, stride = 1): number {
  const began = performance.now();
  for (let board = 0; board < boards; board++) sink += solver(board);
  return ((performance.now() - began) * 1000) / (boards * Math.ceil(benchFrequencies.length / stride));
}

const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;

async function measureCase(
  bench: BenchCase,
  number: number,
  numpy: Numpy | null,
): Promise<{ result: CaseResult; adjoint: number }> {
  const sweep = engineSweep(bench, false);
  const maxRelativeError = worstEngineError(bench, sweep);
  const engine = engineSolver(bench, sweep);
  const adjoint = engineSolver(bench, engineSweep(bench, true));
  const mlMatrix = mlMatrixSolver(bench, 10);
  const mathjs = mathjsSolver(bench, 50);
  // Warm: every path compiled before it is timed.
  perSolve(engine, 200);
  perSolve(adjoint, 200);
  perSolve(mlMatrix, 3, 10);
  perSolve(mathjs, 2, 50);
  await numpy?.time(number, 4);
  const times: Record<'engine' | 'adjoint' | 'mlMatrix' | 'mathjs' | 'numpy', number[]> = {
    engine: [],
    adjoint: [],
    mlMatrix: [],
    mathjs: [],
    numpy: [],
  };
  for (let round = 0; round < rounds; round++) {
    times.engine.push(perSolve(engine, 400));
    if (numpy) times.numpy.push(((await numpy.time(number, 16)) * 1e6) / (16 * benchFrequencies.length));
    times.adjoint.push(perSolve(adjoint, 400));
    times.mlMatrix.push(perSolve(mlMatrix, 2, 10));
    times.mathjs.push(perSolve(mathjs, 1, 50));
  }
  const ratio = (over: number[]): number => median(over.map((us, round) => us / times.engine[round]!));
  return {
    adjoint: ratio(times.adjoint),
    result: {
      name: bench.name,
      unknowns: bench.pattern.size,
      usPerSolve: {
        engine: median(times.engine),
        mlMatrix: median(times.mlMatrix),
        mathjs: median(times.mathjs),
        ...(numpy ? { numpy: median(times.numpy) } : {}),
      },
      ...(numpy ? { ratioToNumpy: ratio(times.numpy) } : {}),
      ratioToMlMatrix: ratio(times.mlMatrix),
      maxRelativeError,
    },
  };
}

async function measureSpread(usPerSolve: () => number) {
  const runner = demoSpread();
  const boards = 10_000;
  const frequencies = runner.sweep.hz.length;
  const beside = startBoardThreads(runner.plan, 1);
  await Promise.all(beside.map(({ ready }) => ready));
  await spreadSeconds(runner, 2000, []);
  await spreadSeconds(runner, 4000, beside);
  const seconds = { one: [] as number[], two: [] as number[] };
  const rest: number[] = [];
  for (let round = 0; round < 3; round++) {
    const plain = usPerSolve();
    const one = await spreadSeconds(runner, boards, []);
    seconds.one.push(one);
    seconds.two.push(await spreadSeconds(runner, boards, beside));
    rest.push((one * 1e6) / boards / (plain * frequencies) - 1);
  }
  await endBoardThreads(beside);
  return {
    boards,
    frequencies,
    boardsPerSecond: { '1': boards / median(seconds.one), '2': boards / median(seconds.two) },
    seconds: { '1': median(seconds.one), '2': median(seconds.two) },
    /** Bias and all the rest over as many plain solves as the sweep has frequencies. */
    restToSolves: median(rest),
    speedUp: median(seconds.one.map((one, round) => one / seconds.two[round]!)),
  };
}

const [whole, single] = demoCases();
const numpy = await startNumpy([whole!, single!]);
const measured = [await measureCase(whole!, 0, numpy), await measureCase(single!, 1, numpy)];
numpy?.end();
const plain = engineSolver(whole!, engineSweep(whole!, false));
const spread = await measureSpread(() => perSolve(plain, 400));
sliderMoves(300);
const moves = sliderMoves(2000).toSorted((a, b) => a - b);

const results = {
  machine: `${cpus()[0]?.model ?? 'unknown'}, ${cpus().length} threads`,
  node: process.version,
  numpy: numpy ? `${numpy.version}, ${numpy.blas}, one thread` : 'not present',
  cases: measured.map(({ result }) => result),
  spread,
  slider: { medianMs: moves[moves.length >> 1]!, p99Ms: moves[Math.floor(0.99 * moves.length)]! },
  influence: {
    ratioToSolve: measured[0]!.adjoint,
    sensitivitiesPerSecond:
      (whole!.pattern.rows.length * 1e6) / (measured[0]!.adjoint * measured[0]!.result.usPerSolve.engine),
  },
};

/** What may be compared between machines. */
const ratios: Record<string, number> = {
  ...Object.fromEntries(
    results.cases.flatMap(({ name, ratioToNumpy, ratioToMlMatrix }): [string, number][] => [
      ...(ratioToNumpy === undefined ? [] : [[`${name}: NumPy over engine`, ratioToNumpy] as [string, number]]),
      [`${name}: ml-matrix over engine`, ratioToMlMatrix],
    ]),
  ),
  'spread: bias and the rest over plain solves': spread.restToSolves,
  'spread: one worker over two': spread.speedUp,
  'influence over one solve': results.influence.ratioToSolve,
};

function table(): string {
  const number = (value: number): string => value.toPrecision(3);
  return [
    `${results.machine}; Node ${results.node}; NumPy ${results.numpy}`,
    ...results.cases.flatMap(({ name, unknowns, usPerSolve, ratioToNumpy, ratioToMlMatrix, maxRelativeError }) => [
      `${name}, ${unknowns} unknowns: largest relative difference ${maxRelativeError.toExponential(1)}`,
      `  µs per solve: engine ${number(usPerSolve.engine)}, ml-matrix ${number(usPerSolve.mlMatrix)}, mathjs ${number(usPerSolve.mathjs)}${usPerSolve.numpy === undefined ? '' : `, NumPy ${number(usPerSolve.numpy)}`}`,
      `  the engine is ${ratioToNumpy === undefined ? '' : `${number(ratioToNumpy)} × NumPy, `}${number(ratioToMlMatrix)} × ml-matrix`,
    ]),
    `spread of ${spread.boards} boards × ${spread.frequencies} frequencies: ${number(spread.seconds['1'])} s on one worker, ${number(spread.seconds['2'])} s on two (${number(spread.speedUp)} ×)`,
    `  bias and the rest: ${number(spread.restToSolves)} of the plain solves`,
    `slider: median ${number(results.slider.medianMs)} ms, 99th percentile ${number(results.slider.p99Ms)} ms`,
    `all sensitivities of one frequency: ${number(results.influence.ratioToSolve)} × one solve, ${number(results.influence.sensitivitiesPerSecond / 1e6)} million a second`,
  ].join('\n');
}

function comparison(): string {
  const path = new URL('baseline.json', import.meta.url);
  const before = JSON.parse(readFileSync(path, 'utf8')) as Record<string, number>;
  return Object.entries(ratios)
    .map(([name, now]) => {
      const was = before[name];
      return was === undefined
        ? `${name}: ${now.toPrecision(3)}, no figure before`
        : `${name}: ${was.toPrecision(3)} → ${now.toPrecision(3)} (${((now / was - 1) * 100).toFixed(0)} %)`;
    })
    .join('\n');
}

const asked = process.argv.slice(2);
if (!Number.isFinite(sink)) throw new Error('a solver gave no number');
if (asked.includes('--json')) console.log(JSON.stringify({ ...results, ratios }, null, 2));
else console.log(table());
if (asked.includes('--compare')) console.log(comparison());
