import { circuitOf, type Job } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { atOnce, fitSteps, reworkSheet, voltageChart, type ReworkSheet } from '../../src/index.ts';
import { demoDrawer, demoJob, stockOf } from '../choose/choosing.ts';
import { jobOn, monoBoard, stageOf } from '../stages.ts';

type Context = Parameters<typeof reworkSheet>[1];

function contextOf(job: Job): Context {
  const [drawn, rebuilt] = [circuitOf(job, 'drawn')!, circuitOf(job, 'rebuilt')!];
  const [before, stage] = [stageOf(drawn.circuit), stageOf(rebuilt.circuit)];
  const fit = atOnce(fitSteps(stage, before, job.limits, job));
  return { stage, fit, meterOhms: 10e6, stock: demoDrawer };
}

const demo = contextOf(demoJob());
const sheet = reworkSheet(demoJob(), demo);
const rowOf = (ref: string): ReworkSheet['rows'][number] => sheet.rows.find((row) => row.ref === ref)!;

describe('the rework sheet of the demo job', () => {
  it('has every position that is worked on in the order of the board, twins side by side', () => {
    expect(sheet.rows.map(({ ref }) => ref)).toEqual([
      ...['C101', 'C102', 'Q101', 'Q102', 'C103', 'C104', 'C107', 'C108', 'D103', 'C113', 'C114', 'C115'],
    ]);
    expect(rowOf('C104').twins).toEqual(['C103', 'C104']);
  });

  it('says what was read on the pulled part, and nothing that was not', () => {
    // Its leakage stays as drawn in the computation; nobody read it.
    expect(rowOf('C104').pulled).toBe('8.2 µF, ESR 38 Ω');
    expect(rowOf('C102').pulled).toBe('0.91 µF, ESR 11 Ω, leakage 1.5 MΩ, leaky, intermittent');
    expect(rowOf('Q101').pulled).toBeNull();
    expect(rowOf('C104').fitted).toBe('22 µF aluminium, 25 V, ±20 %');
    expect(rowOf('D103').fitted).toBe('DS-A + DS-A');
  });

  it('marks polarity, band and turn', () => {
    expect(rowOf('C103').marks).toEqual(['plus goes to leg, minus to gnd']);
    expect(rowOf('C101').marks).toEqual(['no polarity: either way round']);
    expect(rowOf('D103').marks).toEqual(['D103.1: band to D103.1-2', 'D103.2: band to gnd']);
    expect(rowOf('Q102').marks).toEqual(['HN-D goes in turned by 180°, its flat to the back (E C B from the left)']);
  });

  it('says what the meter will read at each lead that does not stand on gnd', () => {
    const { checks } = rowOf('Q102');
    expect(checks.map(({ at, node }) => [at, node])).toEqual([
      ['Q102.collector', 'c1@right'],
      ['Q102.base', 'b1@right'],
      ['Q102.emitter', 'e1@right'],
    ]);
    const [collector, base, emitter] = checks.map(({ volts }) => volts!);
    expect(base! - emitter!).toBeGreaterThan(0.4);
    expect(base! - emitter!).toBeLessThan(0.7);
    expect(collector!).toBeGreaterThan(base!);
    expect(rowOf('C103').checks.map(({ at }) => at)).toEqual(['C103.plus']);
  });

  it('reads each channel by itself', () => {
    const lone = demoJob((text) => text.replace('Q101/Q102:\n', 'Q101:\n'));
    const { rows } = reworkSheet(lone, contextOf(lone));
    const volts = (ref: string): number => rows.find((row) => row.ref === ref)!.checks[0]!.volts!;
    const chart = voltageChart(stageOf(circuitOf(lone, 'rebuilt')!.circuit), 10e6);
    const chartAt = (channel: number): number =>
      chart.channels[channel]!.nodes.find(({ node }) => node === 'leg')!.meterVolts!;
    expect([volts('C103'), volts('C104')]).toEqual([chartAt(0), chartAt(1)]);
    // The new type's VBE is 10 mV more than the drawn one's.
    expect(Math.abs(volts('C103') - volts('C104'))).toBeGreaterThan(1e-3);
  });

  it('tells what stays and why, and counts what the job does not speak of', () => {
    expect(sheet.left.map(({ ref, why }) => [ref, why])).toEqual([
      ['R111', 'reads 1 % high, left in'],
      ['Q103', 'the hiss is made in the first stage, left in'],
      ['Q104', 'the hiss is made in the first stage, left in'],
    ]);
    const designators = demoJob().board.positions.flat().length;
    expect(sheet.rows.length + sheet.left.length + sheet.untouched).toBe(designators);
  });

  it('keeps reminders and photos, of the job and of a position', () => {
    const withPhotos = reworkSheet(
      demoJob((text) =>
        text
          .replace("R111: { why: 'reads 1 % high, left in' }", "R111: { why: 'left in', photos: [photos/r111.jpg] }")
          .replace('C115:\n', 'C115:\n    photos: [photos/can.jpg]\n')
          .replace('reminders:', 'photos: [photos/before.jpg]\nreminders:'),
      ),
      demo,
    );
    expect(withPhotos.photos).toEqual(['photos/before.jpg']);
    expect(withPhotos.rows.find(({ ref }) => ref === 'C115')!.photos).toEqual(['photos/can.jpg']);
    expect(withPhotos.left.find(({ ref }) => ref === 'R111')!.photos).toEqual(['photos/r111.jpg']);
    expect(withPhotos.reminders).toHaveLength(3);
  });

  it('names the capacitors that stay charged', () => {
    expect(sheet.cautions.some((caution) => caution.includes('C115 (28 V)'))).toBe(true);
    expect(sheet.cautions.some((caution) => caution.includes('Valves'))).toBe(false);
  });
});

describe('the purchase list', () => {
  const lineFor = (stock: typeof demoDrawer, ref: string): ReworkSheet['purchase'][number] =>
    reworkSheet(demoJob(), { ...demo, stock }).purchase.find(({ refs }) => refs.includes(ref))!;

  it('counts alike parts together and finds them in the drawer by kind, value, build and rating', () => {
    expect(lineFor(demoDrawer, 'C103')).toMatchObject({
      ...{ stock: 'CE-22-25', refs: ['C103', 'C104'], quantity: 2, inDrawer: 40, toBuy: 0, price: 0.06 },
    });
    expect(lineFor(demoDrawer, 'D103.1')).toMatchObject({ stock: 'DD-S', quantity: 2, refs: ['D103.1', 'D103.2'] });
    const priced = sheet.purchase.map(({ price, quantity }) => price! * quantity);
    expect(sheet.purchaseTotal).toBeCloseTo(
      priced.reduce((sum, each) => sum + each, 0),
      12,
    );
  });

  it('buys what the drawer is short of, and what it does not have', () => {
    const header = 'stock,kind,build,value,rated,quantity,price';
    const short = stockOf(`${header}\nA,capacitor,aluminium,22 µF,25 V,1,0.10\n`);
    expect(lineFor(short, 'C103')).toMatchObject({ stock: 'A', inDrawer: 1, toBuy: 1, total: 0.2 });
    const other = stockOf(`${header}\nA,capacitor,aluminium,22 µF,16 V,9,0.10\nB,capacitor,film,22 µF,25 V,9,\n`);
    expect(lineFor(other, 'C103')).toMatchObject({ stock: null, inDrawer: null, toBuy: 2, price: null, total: null });
  });

  it('takes of two rows the one that has enough, then the cheaper', () => {
    const header = 'stock,kind,build,value,rated,quantity,price';
    const row = (stock: string, quantity: number, price: number): string =>
      `${stock},capacitor,aluminium,22 µF,25 V,${quantity},${price}`;
    const three = stockOf([header, row('A', 1, 0.01), row('B', 9, 0.2), row('C', 9, 0.1)].join('\n'));
    expect(lineFor(three, 'C104').stock).toBe('C');
  });
});

describe('other work', () => {
  const board = monoBoard(
    `R1: { kind: resistor, value: 1 kΩ, between: [in, out] }
     C1: { kind: capacitor, build: aluminium, value: 1 µF, plus: out, minus: gnd }
     R2: { kind: resistor, value: 1 kΩ, between: [out, gnd] }
     R3: { kind: resistor, value: 100 kΩ, between: [ht, out] }
     C2: { kind: capacitor, value: 10 µF, plus: ht, minus: gnd }
     V1: { type: TR, anode: ht, grid: in, cathode: out }`,
    'rails: { ht: { volts: 250 V } }\ntypes: { TR: { kind: triode, mu: 100, rp: 62.5 kΩ, at: { Va: 250 V, Ia: 1.2 mA } } }',
  );
  const job = jobOn(
    board,
    `R1: { pulled: { faults: [open_joint], lead: '1' }, mended: true }
       C1: { fit: none, why: not needed }
       R2: { pulled: { value: 1010 Ω } }`,
    'added: { R9: { kind: resistor, build: metal_film, value: 100 kΩ, rated: 0.25 W, between: [out, gnd] } }',
  );
  const { rows, left, cautions, purchase } = reworkSheet(job, contextOf(job));

  it('is told by its name: mended, left empty, added', () => {
    expect(rows.map(({ ref, action, fitted }) => [ref, action, fitted])).toEqual([
      ['R1', 'mend', '1 kΩ'],
      ['C1', 'leave empty', 'nothing'],
      ['R9', 'add', '100 kΩ metal film, 0.25 W'],
    ]);
    expect(rows[0]!.pulled).toBe('open joint, at 1');
  });

  it('puts back what was pulled and is not replaced', () => {
    expect(left).toEqual([{ ref: 'R2', what: '1 kΩ', pulled: '1010 Ω', why: null, photos: [] }]);
  });

  it('buys what is added, and not what is mended', () => {
    expect(purchase.map(({ refs }) => refs)).toEqual([['R9']]);
  });

  it('warns of valves by their own volts, and of every capacitor that stands at more than 60 V', () => {
    expect(cautions.some((caution) => caution.includes('Valves: up to 250 V at ht'))).toBe(true);
    expect(cautions.some((caution) => caution.includes('C2 (250 V)'))).toBe(true);
  });
});
