import { readBoard, type Board } from '@curvewright/board';
import { solveStage, voltageChart, type ReworkSheet, type VoltageChart } from '@curvewright/verify';
import type { ProofContent } from '../../src/index.ts';
import { inventedAnswer } from '../invented-answer.ts';

/** Invented. */
export const inventedSheet: ReworkSheet = {
  title: 'invented',
  board: 'invented card',
  unit: { model: 'X 1', serial: '007', made: 1974 },
  date: '2026-03-01',
  technician: 'T. T.',
  complaint: 'pops',
  cautions: ['Mains off.'],
  rows: ['C101', 'C102', 'C103'].map((ref, n) => ({
    ...{ ref, twins: ['C101', 'C102'], action: 'fit' as const, drawn: '0.68 µF tantalum', fitted: '1 µF film, 63 V' },
    ...{ pulled: n === 2 ? null : '0.9 µF, leaky', why: null, marks: [], mind: [], photos: [], checks: [] },
  })),
  left: [{ ref: 'R1', what: '1 kΩ', pulled: '1010 Ω', why: 'reads 1 % high', photos: [] }],
  untouched: 3,
  reminders: ['four screws'],
  photos: [],
  meterOhms: 10e6,
  purchase: [],
  purchaseTotal: 0,
};

export function inventedContent(): ProofContent {
  return {
    version: '1.2.3',
    shop: { shop: 1, name: 'Bench', address: ['1 Mill Lane'], phone: '555 0100', note: 'Thank you.' },
    answer: inventedAnswer(),
    spread: null,
    sheet: inventedSheet,
    volts: dividerChart(),
    shared: new Set(['vcc']),
    rounds: [
      {
        round: {
          ...{ state: 'found', volts: [], ohms: [], heard: [{ what: 'popping', channel: 'right' }] },
          ...{ meter: { resistance: 10e6, accuracy: 0.01 }, hiss: { left: 0.5e-6 }, pops: { right: 12 } },
        },
        readings: [{ name: 'Q101.collector', unit: 'V', read: 3, predicted: 2.5 }],
      },
    ],
    inputs: [
      { role: 'job', name: 'x.job.yaml', bytes: 12, sha256: 'a'.repeat(64) },
      { role: 'board', name: '../x.board.yaml', bytes: 34, sha256: 'b'.repeat(64) },
    ],
  };
}

function dividerChart(): VoltageChart {
  const text =
    'board: 1\ntitle: x\nchannels: [left, right]\ninput: { node: in }\noutput: { node: out }\nrails: { vcc: { volts: 12 V } }\nparts:\n' +
    '  R1/R2: { kind: resistor, value: 1 kΩ, between: [vcc, out] }\n  R3/R4: { kind: resistor, value: 1 kΩ, between: [out, gnd] }\n' +
    '  R5/R6: { kind: resistor, value: 1 kΩ, between: [in, out] }\n';
  const board = readBoard(text, 'x.board.yaml');
  if (!board.ok) throw new Error(JSON.stringify(board.diagnostics));
  return voltageChart(stageOf(board.value), 10e6);
}

function stageOf({ circuit }: Board): Parameters<typeof voltageChart>[0] {
  const stage = solveStage(circuit);
  if (!stage.ok) throw new Error(JSON.stringify(stage.diagnostics));
  return stage.value;
}
