import { dirname, isAbsolute, join } from 'node:path';
import type { Outcome } from '@curvewright/board';
import { compareSheets, differencesPage, isSame, readWrittenSheet } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { readText } from '../files.ts';
import { untilInterrupted } from '../interrupt.ts';
import { proveJob, readProofJob, unwritten } from '../proof-answer.ts';

/** Makes a sheet anew from the files that it names and says what differs: 0 where nothing does, 1 where something does. */
export async function verifyProof(
  file: string,
  { json = false }: { readonly json?: boolean },
  desk: Desk,
): Promise<Status> {
  const sheet = readText(file);
  if (!sheet.ok) return refuse(desk, sheet.diagnostics, json);
  const job = jobOf(sheet.value, file);
  if (!job.ok) return refuse(desk, job.diagnostics, json);
  const read = readProofJob(job.value);
  if (!read.ok) return refuse(desk, read.diagnostics, json);
  const answer = await untilInterrupted((signal) =>
    proveJob(read.value, dirname(file), signal, (share) => {
      desk.progress(`${Math.floor(100 * share)} % computed`);
    }),
  );
  desk.progress('');
  if (answer === null) return refuse(desk, [unwritten(file, 'is not compared: stopped before')], json);
  if (!answer.ok) return refuse(desk, answer.diagnostics, json);
  const differences = compareSheets(sheet.value, answer.value.html);
  if (json) printJson(desk, { sheet: file, ...differences });
  else desk.out(differencesPage(differences, file, desk));
  return isSame(differences) ? 0 : 1;
}

function jobOf(sheet: string, file: string): Outcome<string> {
  const name = readWrittenSheet(sheet).inputs.find(({ role }) => role === 'job')?.name;
  if (name !== undefined && !isAbsolute(name)) return { ok: true, value: join(dirname(file), name) };
  const message = 'no job is named in it; name the HTML file that proof wrote';
  return { ok: false, diagnostics: [{ code: 'wrong-form', place: { file, line: 1, column: 1 }, message }] };
}
