import { joinJob } from '../src/join-job.ts';
import type { Board } from '../src/board.ts';
import type { Job } from '../src/job.ts';
import { readBoard } from '../src/read-board.ts';
import { readJob } from '../src/read-job.ts';
import { wholeBoard } from './whole-board.ts';

/** An invented job on the whole board that uses every key of the format. */
export const wholeJob = `job: 1
title: LK 417, pops in the right channel
board: ../boards/lk417.board.yaml
unit: { model: LK 417, serial: 0104417 }
date: 2026-03-01
technician: initials
complaint: intermittent pops, right louder
ambient: 25 °C
positions:
  C101/C102: { pulled: { value: 0.91 µF, leakage: 400 kΩ }, fit: { build: film, value: 1 µF, rated: 100 V, body: { pitch: 5 mm, height: 9 mm } } }
  Q101/Q102: { fit: { type: HN-B }, why: known to turn noisy with age }
  D103:      { fit: [ { type: DS-A }, { type: DS-A } ] }
  R101:      { why: reads 1 % high, left in }
added:
  R199: { kind: resistor, value: 100 kΩ, between: [vq, gnd] }
types:
  HN-B: { kind: npn, hFE: 400, VBE: { value: 0.6 V, at: 1 mA } }
reminders: [insulating sheet back under the board, four screws]
photos: [photos/before.jpg]
readings:
  - state: found
    meter: { resistance: 10 MΩ, accuracy: 1 % }
    volts: { Q101.collector: 2.41 V, e1@left: 1.1 V, Q101.base-Q101.emitter: 0.61 V }
    ohms: { vcc-gnd: 4.7 kΩ }
    hiss: { left: 0.9 µV }
    hum: { right: -62 dB }
    pops: { right: 12 }
    heard: [ { what: popping, channel: right }, { what: scratchy control } ]
  - state: rebuilt
    meter: { sensitivity: 20 kΩ/V, range: 10 V, accuracy: 3 % }
    volts: { D103.1-2: 0.6 V, vq-D103.1-2: 0.61 V, D103.2.cathode: 0 V }
measured: { state: rebuilt, at: board, response: { left: l.csv, right: r.csv }, recordings: [], loopback: null, adapter: null }
limits: { deviation: { good: 0.7 dB } }
suspecting: { priors: { leaky: 9 }, minutes: { lift: 12 }, misheard: 20 % }
`;

/** A job file with nothing but these lines under its head. */
export function jobText(rest: string): string {
  return `job: 1\ntitle: invented\nboard: b.board.yaml\n${rest}\n`;
}

export function boardFrom(text: string): Board {
  const outcome = readBoard(text, 'b.board.yaml');
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.diagnostics));
  return outcome.value;
}

export const board: Board = boardFrom(wholeBoard);

/** The job joined with the whole board, or another; throws with its faults where it has any. */
export function jobFrom(text: string, on: Board = board): Job {
  const outcome = outcomeOf(text, on);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.diagnostics));
  return outcome.value;
}

/** `code at line:column` of each fault of a job, read and joined with the whole board. */
export function faultsOf(text: string): readonly string[] {
  const outcome = outcomeOf(text, board);
  return outcome.ok ? [] : outcome.diagnostics.map(({ code, place }) => `${code} at ${place.line}:${place.column}`);
}

/** `code at word` of each fault, the word being what stands at its place. */
export function faultWords(text: string): readonly string[] {
  const outcome = outcomeOf(text, board);
  const lines = text.split('\n');
  return outcome.ok
    ? []
    : outcome.diagnostics.map(({ code, place }) => {
        const rest = lines[place.line - 1]?.slice(place.column - 1) ?? '';
        return `${code} at ${/^[\w/.@-]+|^./.exec(rest)?.[0] ?? ''}`;
      });
}

export function outcomeOf(text: string, on: Board): ReturnType<typeof joinJob> {
  const file = readJob(text, 'j.job.yaml');
  return file.ok ? joinJob(file.value, on) : file;
}
