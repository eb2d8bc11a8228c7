import { describe, expect, it } from 'vitest';
import { readBoard, readPieces, withFigures, type MeasuredPiece, type Part } from '../../src/index.ts';

const board = readBoard(
  `board: 1
title: invented
common: [c]
rails: { vcc: { volts: 9 V } }
input: { node: in }
output: { node: c }
parts:
  R1: { kind: resistor, value: 10 kΩ, between: [vcc, c] }
  C1: { kind: capacitor, build: aluminium, value: 22 µF, esr: { value: 3 Ω, at: 100 kHz }, loss: 0.08, plus: c, minus: in }
  Q1: { type: T, collector: c, base: in, emitter: gnd }
  D1: { type: D, anode: c, cathode: gnd }
  J1: { type: J, drain: c, gate: in, source: gnd }
  U1: { type: O, plus: in, minus: c, out: c }
types:
  T: { kind: npn, hFE: { low: 200, typical: 300, high: 500, at: 1 mA }, VBE: { value: 600 mV, at: 1 mA } }
  D: { kind: diode, VF: [{ value: 0.6 V, at: 1 mA }, { value: 0.72 V, at: 10 mA }] }
  J: { kind: jfet-n, IDSS: 6 mA, VGS_off: -1 V }
  O: { kind: opamp }
`,
  'b.board.yaml',
);
const partOf = (ref: string): Part => {
  if (!board.ok) throw new Error(board.diagnostics[0]!.message);
  return board.value.circuit.parts.find((part) => part.ref === ref)!;
};

function read(text: string, ref: string): ReturnType<typeof readPieces> {
  return readPieces(text, 'bag.csv', partOf(ref));
}

function piecesOf(text: string, ref: string): readonly MeasuredPiece[] {
  const outcome = read(text, ref);
  if (!outcome.ok) throw new Error(outcome.diagnostics[0]!.message);
  expect(outcome.value.faults).toEqual([]);
  return outcome.value.pieces;
}

/** Code, line and column of each fault; the good row `last` stays. */
function faultsOf(
  header: string,
  row: string,
  last: string,
  ref: string,
): readonly (readonly [string, number, number])[] {
  const outcome = read(`${header}\n${row}\n${last}\n`, ref);
  if (!outcome.ok) throw new Error(outcome.diagnostics[0]!.message);
  expect(outcome.value.pieces).toHaveLength(1);
  return outcome.value.faults.map(({ code, place }) => [code, place.line, place.column]);
}

function refusal(header: string, ref: string): string {
  const outcome = read(`${header}\n`, ref);
  if (outcome.ok) throw new Error('not refused');
  return outcome.diagnostics[0]!.message;
}

describe('a bag of measured pieces', () => {
  it('gives figures in SI units, by columns in any order and case; columns of others are passed over', () => {
    expect(piecesOf('Shelf,VBE,vbe_at,Piece,hFE\nB,612 mV,1 mA,7,431\n', 'Q1')).toMatchObject([
      { piece: '7', figures: { vbe: 0.612, vbe_at: 1e-3, hfe: 431 }, place: { line: 2 } },
    ]);
  });

  it('leaves out a faulty row and names its row and column', () => {
    const good = 'b,430,612 mV,1 mA';
    const header = 'piece,hfe,vbe,vbe_at';
    expect(faultsOf(header, 'a,430,612,1 mA', good, 'Q1')).toEqual([['bare-number', 2, 7]]);
    expect(faultsOf(header, 'a,0,612 mV,1 mA', good, 'Q1')).toEqual([['out-of-range', 2, 3]]);
    expect(faultsOf(header, 'a,,612 mV,1 mA', good, 'Q1')).toEqual([['missing-key', 2, 3]]);
    expect(faultsOf(header, ',430,612 mV,1 mA', good, 'Q1')).toEqual([['missing-key', 2, 1]]);
    expect(faultsOf(header, 'a,430,612 mV,1 mA,x', good, 'Q1')).toEqual([['wrong-form', 2, 19]]);
    expect(faultsOf(header, good, good, 'Q1')).toEqual([['designator-twice', 3, 1]]);
  });

  it('refuses a table that says nothing of the part, or half of a reading', () => {
    expect(refusal('piece,value', 'Q1')).toContain('says anything of an npn transistor; write piece, hfe, vbe, vbe_at');
    expect(refusal('piece,hfe,vbe', 'Q1')).toContain('vbe and vbe_at');
    expect(refusal('hfe', 'Q1')).toContain('no column piece');
    expect(refusal('piece,hfe,hfe', 'Q1')).toContain('two columns');
    expect(refusal('piece,gain', 'U1')).toContain('no figure that pieces are sorted by');
  });
});

describe('withFigures', () => {
  const made = (header: string, row: string, ref: string): Part =>
    withFigures(partOf(ref), piecesOf(`piece,${header}\na,${row}\n`, ref)[0]!.figures);

  it('puts what was read in place of what is known of the make, and leaves the rest', () => {
    expect(made('hfe,vbe,vbe_at', '431,0.612 V,2 mA', 'Q1')).toMatchObject({
      type: { hFE: [{ value: 431, at: 0 }], VBE: { value: 0.612, at: 2e-3 } },
    });
    const capacitor = made('value,esr', '19 µF,5 Ω', 'C1');
    expect(capacitor).toMatchObject({ farads: 19e-6, esr: 5, loss: 0.08, build: 'aluminium' });
    // The frequency belonged to the make's own ESR.
    expect(capacitor).not.toHaveProperty('esrAt');
    expect(made('value', '9.9 kΩ', 'R1')).toMatchObject({ ohms: 9900 });
    expect(made('idss,vgs_off', '5 mA,-0.9 V', 'J1')).toMatchObject({ type: { IDSS: 5e-3, pinchOff: 0.9 } });
  });

  it('keeps the steepness of a diode', () => {
    const diode = made('vf,vf_at', '0.63 V,2 mA', 'D1');
    if (diode.kind !== 'typed' || diode.type.kind !== 'diode') throw new Error('no diode');
    const [first, second] = diode.type.VF;
    expect(first).toEqual({ value: 0.63, at: 2e-3 });
    // 0.12 V to the decade, as the make has it.
    expect(second!.value - first!.value).toBeCloseTo(0.12, 12);
    expect(second!.at / first!.at).toBeCloseTo(10, 12);
  });
});
