import type { CaseLeads } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { ordersOf } from '../../src/fit/insertions.ts';
import { frontOrder, leadFit } from '../../src/fit/lead-fit.ts';
import { boardWith, fittedRows, rowOf } from './fit-boards.ts';

type Vector = readonly [x: number, y: number, z: number];

/**
 * A case stands on the board, x to the right, y away from the reader, z up; its flat looks towards −y. Its leads are at x = −1, 0, 1.
 * What somebody sees who looks along `gaze` with `up` on top: x' grows to the right, which is gaze × up.
 */
function seenFrom(gaze: Vector, up: Vector): (point: Vector) => number {
  const right: Vector = [
    gaze[1] * up[2] - gaze[2] * up[1],
    gaze[2] * up[0] - gaze[0] * up[2],
    gaze[0] * up[1] - gaze[1] * up[0],
  ];
  return (point) => right[0] * point[0] + right[1] * point[1] + right[2] * point[2];
}

/** From the front one looks along +y with z on top; from below along +z, with the flat (−y) or the back (+y) on top. */
const looks: Readonly<Record<CaseLeads['view'], (point: Vector) => number>> = {
  front: seenFrom([0, 1, 0], [0, 0, 1]),
  below_flat_up: seenFrom([0, 0, 1], [0, -1, 0]),
  below_flat_down: seenFrom([0, 0, 1], [0, 1, 0]),
};

const letters = ordersOf('ECB');
const views = ['front', 'below_flat_up', 'below_flat_down'] as const;

describe('a case seen from somewhere', () => {
  it.each(views)('has its leads in the order that solid geometry gives: %s', (view) => {
    for (const front of letters) {
      const leads = [...front].map((lead, n) => ({ lead, at: [n - 1, 0, -1] as const }));
      const seen = leads.toSorted((a, b) => looks[view](a.at) - looks[view](b.at)).map(({ lead }) => lead);
      expect(frontOrder({ order: seen.join(''), view })).toBe(front);
    }
  });
});

const cases = letters.flatMap((holes) =>
  letters.flatMap((front) => views.map((view) => [holes, front, view] as const)),
);

describe('leads in holes', () => {
  it('of all six orders of holes, six of the case and three views', () => {
    expect(cases).toHaveLength(108);
    let crossed = 0;
    for (const [holes, front, view] of cases) {
      const order = view === 'below_flat_down' ? [...front].reverse().join('') : front;
      const fit = leadFit(holes, frontOrder({ order, view }));
      // Turned about the vertical axis, what stood at x stands at −x.
      const stand = [...front].map((lead, n) => ({ lead, x: fit.flat === 'front' ? n - 1 : 1 - n }));
      const standing = stand.toSorted((a, b) => a.x - b.x).map(({ lead }) => lead);
      expect(fit.standing, `${holes} ${front} ${view}`).toBe(standing.join(''));
      expect(fit.inHoles).toBe(holes);
      const moved = standing.filter((lead, n) => lead !== holes[n]);
      expect(fit.crossed).toEqual(moved);
      expect(fit.how).toBe(moved.length > 0 ? 'crossed' : fit.flat === 'back' ? 'turned' : 'as is');
      const turnedRound = [...front].reverse().join('');
      if (front === holes) expect(fit.how).toBe('as is');
      else if (turnedRound === holes) expect(fit.how).toBe('turned');
      else {
        crossed++;
        // Of three leads, one way round leaves one where it is: its two neighbours change places, never the outer two.
        expect(fit.crossed).toHaveLength(2);
        expect(standing.indexOf(moved[1]!) - standing.indexOf(moved[0]!)).toBe(1);
      }
    }
    // Of six orders one goes in as it is and one turned.
    expect(crossed).toBe((108 * 4) / 6);
  });

  it('of emitter-collector-base in base-collector-emitter go in turned round', () => {
    // Common practice, no source.
    expect(leadFit('BCE', 'ECB')).toMatchObject({ how: 'turned', flat: 'back', inHoles: 'BCE' });
  });
});

const stage = (type: string): ReturnType<typeof boardWith> =>
  boardWith(
    `R8: { kind: resistor, value: 9.4 kΩ, between: [vcc, b] }
    R9: { kind: resistor, value: 10.6 kΩ, between: [b, gnd] }
    Q9: { type: QX, collector: vcc, base: b, emitter: e, seat: { holes: BCE } }
    R7: { kind: resistor, value: 10 kΩ, between: [e, gnd] }`,
    `rails: { vcc: { volts: 20 V } }
types: { QX: { kind: npn, hFE: 300, VBE: { value: 0.6 V, at: 1 mA }, VCEO: 50 V, VEBO: 5 V, IC: 0.1 A, Ptot: 0.3 W${type === '' ? '' : `, ${type}`} } }`,
  );

const asked = (type: string, job: string): ReturnType<typeof rowOf> =>
  rowOf(fittedRows(stage(type), job), 'Q9', 'leads');

describe('the lead rule', () => {
  it.each([
    ['as it is', 'case_leads: BCE', '{ type: QX }', 'good', 'as the print shows'],
    ['turned', 'case_leads: ECB', '{ type: QX }', 'good', 'turned by 180°, flat to the back'],
    [
      'turned, seen from below',
      'case_leads: { order: BCE, view: below_flat_down }',
      '{ type: QX }',
      'good',
      'turned by 180°, flat to the back',
    ],
    ['crossed', 'case_leads: EBC', '{ type: QX }', 'look', 'crossed'],
    ['of a case that the file says nothing of', '', '{ type: QX }', 'look', 'order not known'],
    ['of a type with two cases', 'case_leads: [BCE, ECB]', '{ type: QX }', 'look', 'case not known'],
    [
      'of two cases, one in hand',
      'case_leads: [BCE, ECB]',
      '{ type: QX, case_leads: ECB }',
      'good',
      'turned by 180°, flat to the back',
    ],
    ['of a metal can', 'case: metal_can', '{ type: QX }', 'look', 'case'],
    ['of a power case in hand', 'case_leads: BCE', '{ type: QX, case: power }', 'look', 'case'],
    ['in the wrong holes', 'case_leads: BCE', '{ type: QX, inserted: ECB }', 'fail', 'wrong holes'],
    ['stated, in the right ones', 'case_leads: BCE', '{ type: QX, inserted: BCE }', 'good', 'as the print shows'],
  ])('says of a part %s', (_, type, fit, level, where) => {
    expect(asked(type, `Q9: { fit: ${fit} }`)).toMatchObject({ level, where });
  });

  it('tells that metal may be the collector', () => {
    expect(asked('case: metal_can', 'Q9: { fit: { type: QX } }')?.cause).toContain('may be the collector');
    expect(asked('case: power', 'Q9: { fit: { type: QX } }')?.cause).toContain('may be the collector');
  });

  it('says how each of two cases would go in', () => {
    const row = asked('case_leads: [BCE, ECB]', 'Q9: { fit: { type: QX } }');
    expect(row?.cause).toContain('as the print shows');
    expect(row?.cause).toContain('turned by 180°');
  });

  it('names the leads to sleeve', () => {
    expect(asked('case_leads: EBC', 'Q9: { fit: { type: QX } }')).toMatchObject({
      value: 2,
      margin: -2,
      next: 'sleeve C and B of Q9',
    });
  });

  it('is not asked of a part that stays, unless it is put back otherwise', () => {
    expect(asked('case_leads: EBC', 'Q9: { why: left in }')).toBeUndefined();
    expect(asked('case_leads: EBC', 'Q9: { inserted: ECB }')?.level).toBe('fail');
  });

  it('looks only where drain and source of a JFET change places', () => {
    const board = boardWith(
      `J9: { type: JX, drain: vcc, gate: gnd, source: s, seat: { holes: DGS } }
      R7: { kind: resistor, value: 1 kΩ, between: [s, gnd] }`,
      `rails: { vcc: { volts: 20 V } }\ntypes: { JX: { kind: jfet-n, IDSS: 6 mA, VGS_off: -1 V, case_leads: DGS } }`,
    );
    const level = (inserted: string): string | undefined =>
      rowOf(fittedRows(board, `J9: { fit: { type: JX, inserted: ${inserted} } }`), 'J9', 'leads')?.level;
    expect([level('SGD'), level('GDS'), level('DGS')]).toEqual(['look', 'fail', 'good']);
  });
});
