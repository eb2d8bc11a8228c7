import { createHash } from 'node:crypto';
import type { Diagnostic, Job, Outcome, StockPart } from '@curvewright/board';
import { checkText, proofFacts, proofSheet, type ProofFacts, type ProofInput } from '@curvewright/report';
import {
  atOnce,
  checkSteps,
  comparedRounds,
  fitSteps,
  measuredAnswer,
  reworkSheet,
  spreadAnswer,
  spreadPlan,
  spreadRunner,
  stageJob,
  voltageChart,
  type MeasuredAnswer,
  type Measurement,
  type ReworkSheet,
  type SpreadAnswer,
  type Stage,
  type StagedJob,
} from '@curvewright/verify';
import { meterOf, usualMeter } from './meter.ts';
import { measurementOf } from './measured.ts';
import { hashInputs, jobFiles, withoutFolders } from './proof-inputs.ts';
import { runSteps } from './run-steps.ts';
import { openShop, type OpenShop } from './shop.ts';
import { runBoards } from './spread-workers.ts';
import { readSubject } from './subject.ts';
import { programVersion } from './version.ts';

/** Boards behind the band of the figure, and their seed: always the same ones, so that the sheet can be made again. */
const [bandBoards, bandSeed] = [500, 1] as const;

/** A job read for its documents. */
export interface ProofJob {
  readonly file: string;
  readonly job: Job;
  readonly shop: OpenShop | null;
  readonly staged: StagedJob;
}

/** A proof as it is written, with what its other documents take from it. */
export interface ProofAnswer {
  readonly html: string;
  readonly facts: ProofFacts;
  readonly code: string;
  readonly verdict: ProofFacts['verdict'];
}

export function readProofJob(file: string): Outcome<ProofJob> {
  const subject = readSubject(file, {});
  if (!subject.ok) return subject;
  if (subject.value.kind === 'board') {
    const message = 'a board file alone has no work to prove; name a job file';
    return { ok: false, diagnostics: [{ code: 'wrong-form', place: { file, line: 1, column: 1 }, message }] };
  }
  const { job } = subject.value;
  const shop = openShop(file);
  if (!shop.ok) return shop;
  const staged = stageJob(job);
  return staged.ok ? { ok: true, value: { file, job, shop: shop.value, staged: staged.value } } : staged;
}

/** Files that the documents of a job follow from, with others, named from a folder. */
export function inputsOf(
  { file, job, shop }: ProofJob,
  folder: string,
  others: readonly string[] = [],
): Outcome<readonly ProofInput[]> {
  return hashInputs(
    [
      ...jobFiles(file, job),
      ...(shop === null ? [] : [{ role: 'shop', path: shop.file }]),
      ...others.map((path) => ({ role: 'drawer', path })),
    ],
    folder,
  );
}

/** The work in bench order; `stock` is what the drawer holds. */
export function reworkOf({ job, staged }: ProofJob, stock: readonly StockPart[]): ReworkSheet {
  const { drawn, rebuilt } = stagesOf(staged);
  const fit = atOnce(fitSteps(rebuilt, drawn, job.limits, job));
  const meterOhms = meterOf(job, 'rebuilt') ?? meterOf(job, 'found') ?? usualMeter;
  return reworkSheet(job, { stage: rebuilt, fit, meterOhms, stock });
}

/** Everything is computed anew; null where the signal came first. `folder`: where the sheet stands. */
export async function proveJob(
  proof: ProofJob,
  folder: string,
  signal: AbortSignal,
  progress: (share: number) => void,
): Promise<Outcome<ProofAnswer> | null> {
  const { job, shop, staged } = proof;
  const inputs = inputsOf(proof, folder);
  if (!inputs.ok) return inputs;
  const measurement = measurementOf(job, proof.file);
  if (!measurement.ok) return measurement;
  const checked = await runSteps(checkSteps(staged), signal, (share) => {
    progress(0.9 * share);
  });
  if (checked === null) return null;
  const measured = measurement.value === null ? null : measuredState(proof, measurement.value);
  const answer = { ...checked, states: { ...checked.states, measured } };
  const spread = await bandOf(proof, signal);
  if (signal.aborted) return null;
  const { rebuilt } = stagesOf(staged);
  const sheet = reworkOf(proof, []);
  const facts = proofFacts({
    version: programVersion(),
    shop: shop?.shop ?? null,
    answer,
    spread,
    sheet,
    volts: voltageChart(rebuilt, sheet.meterOhms),
    shared: new Set(
      rebuilt.circuit.channels.length > 1
        ? [...rebuilt.network.nodes.keys()].filter((node) => !node.includes('@'))
        : [],
    ),
    rounds: comparedRounds(job),
    inputs: inputs.value,
  });
  const code = createHash('sha256').update(checkText(facts)).digest('hex');
  return {
    ok: true,
    value: { html: proofSheet(facts, { answer, spread }, code), facts, code, verdict: facts.verdict },
  };
}

function measuredState({ file, job, staged }: ProofJob, measurement: Measurement): MeasuredAnswer {
  const measured = measuredAnswer(staged, measurement);
  return { ...measured, problems: measured.problems.map((problem) => withoutFolders(problem, file, job)) };
}

async function bandOf({ job, staged }: ProofJob, signal: AbortSignal): Promise<SpreadAnswer | null> {
  const { drawn, rebuilt } = stagesOf(staged);
  const { limits, board } = job;
  const runner = spreadRunner(spreadPlan(rebuilt, drawn, { limits, matched: board.matched, seed: bandSeed }));
  if (runner === null) return null;
  const tallies = await runBoards(runner, { boards: bandBoards, threads: [], signal, progress: () => undefined });
  return spreadAnswer(runner, tallies);
}

function stagesOf({ states }: StagedJob): { readonly drawn: Stage; readonly rebuilt: Stage } {
  const [first, last] = [states[0], states.at(-1)];
  if (first === undefined || last === undefined) throw new RangeError('a job without a state');
  return { drawn: first.probe.stage, rebuilt: last.probe.stage };
}

/** A document that could not be written, as a diagnostic. */
export function unwritten(file: string, reason: string): Diagnostic {
  return { code: 'unreadable-file', place: { file, line: 1, column: 1 }, message: `the file ${reason}` };
}
