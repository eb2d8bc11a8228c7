import { dirname } from 'node:path';
import type { Diagnostic } from '@curvewright/board';
import { reworkDocument } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { openDrawer } from '../drawer.ts';
import { reasonOf, writeWhole } from '../files.ts';
import { untilInterrupted } from '../interrupt.ts';
import { printPdf } from '../print-pdf.ts';
import { inputsOf, proveJob, readProofJob, reworkOf, unwritten, type ProofJob } from '../proof-answer.ts';
import { programVersion } from '../version.ts';

export interface ProofOptions {
  readonly json?: boolean;
  /** The sheet's file; its companions are named after it. */
  readonly out?: string;
  readonly pdf?: boolean;
  readonly rework?: boolean;
}

/** Writes the customer's sheet of a job, its facts as JSON beside it, and what else is asked for. */
export async function proof(file: string, options: ProofOptions, desk: Desk): Promise<Status> {
  const json = options.json ?? false;
  const read = readProofJob(file);
  if (!read.ok) return refuse(desk, read.diagnostics, json);
  const names = namesOf(file, options);
  const answer = await untilInterrupted((signal) =>
    proveJob(read.value, dirname(names.html), signal, (share) => {
      desk.progress(`${Math.floor(100 * share)} % computed`);
    }),
  );
  desk.progress('');
  if (answer === null) return refuse(desk, [unwritten(names.html, 'is not written: stopped before')], json);
  if (!answer.ok) return refuse(desk, answer.diagnostics, json);
  const { html, facts, code } = answer.value;
  const data = { ...facts, checkCode: code };
  const trouble =
    written(names.html, html) ??
    written(names.json, `${JSON.stringify(data, null, 2)}\n`) ??
    (options.rework ? writeRework(read.value, names.rework) : null) ??
    (options.pdf ? await writePdf(names.html, names.pdf) : null);
  if (trouble !== null) return refuse(desk, [trouble], json);
  if (json) printJson(desk, data);
  else {
    const also = [names.json, ...(options.rework ? [names.rework] : []), ...(options.pdf ? [names.pdf] : [])];
    desk.out(`${names.html}: ${facts.verdict.level}, ${facts.verdict.words}\n${also.join('\n')}\ncheck code ${code}`);
  }
  return 0;
}

interface Names {
  readonly html: string;
  readonly json: string;
  readonly rework: string;
  readonly pdf: string;
}

/** `lk417.job.yaml` gives `lk417.proof.html` and its companions. */
function namesOf(job: string, { out }: ProofOptions): Names {
  const html = out ?? `${job.replace(/(\.job)?\.ya?ml$/i, '')}.proof.html`;
  const stem = html.replace(/\.html?$/i, '');
  const plain = stem.replace(/\.proof$/, '');
  return { html, json: `${stem}.json`, rework: `${plain}.rework.html`, pdf: `${stem}.pdf` };
}

function writeRework(job: ProofJob, file: string): Diagnostic | null {
  const drawer = openDrawer(undefined, job.file);
  const { file: drawerFile, stock } = drawer.ok ? drawer.value : { file: null, stock: [] };
  const inputs = inputsOf(job, dirname(file), drawerFile === null ? [] : [drawerFile]);
  if (!inputs.ok) return inputs.diagnostics[0] ?? null;
  const sheet = reworkOf(job, stock);
  const shop = job.shop?.shop ?? null;
  return written(file, reworkDocument({ version: programVersion(), shop, sheet, inputs: inputs.value }));
}

async function writePdf(html: string, pdf: string): Promise<Diagnostic | null> {
  const trouble = await printPdf(html, pdf);
  return trouble === null ? null : unwritten(pdf, trouble);
}

function written(file: string, text: string): Diagnostic | null {
  try {
    writeWhole(file, text);
    return null;
  } catch (trouble) {
    return unwritten(file, reasonOf(trouble));
  }
}
