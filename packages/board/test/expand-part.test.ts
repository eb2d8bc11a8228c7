import { describe, expect, it } from 'vitest';
import { expandPart, type ExpansionScope } from '../src/expand-part.ts';
import { nearest, suggestion } from '../src/nearest.ts';
import { partEntry } from '../src/schema/part-schema.ts';

const scope: ExpansionScope = {
  channels: ['left', 'right'],
  shared: new Set(['gnd', 'vcc', 'vq']),
  types: {},
  placeOf: (path, of) => ({ file: `${path.join('.')} ${of}`, line: 1, column: 1 }),
  table: ['added'],
};

const expand = (key: string, entry: object): ReturnType<typeof expandPart> =>
  expandPart(key, partEntry.parse(entry), scope);

describe('expandPart', () => {
  const between = ['a', 'vq'];

  it('gives one part for each channel, on its own nodes', () => {
    const { parts, diagnostics } = expand('R101/R102', { kind: 'resistor', value: '1k', between });
    expect(diagnostics).toEqual([]);
    expect(parts).toMatchObject([
      {
        ref: 'R101',
        position: 'R101',
        channel: 'left',
        between: ['a@left', 'vq'],
        place: { file: 'added.R101/R102 key' },
      },
      { ref: 'R102', position: 'R102', channel: 'right', between: ['a@right', 'vq'] },
    ]);
  });

  it('lets a part of one channel reach into the other, and one that exists once join two', () => {
    expect(expand('R1/R2', { kind: 'resistor', value: '1k', between: ['a@left', 'b'] }).parts).toMatchObject([
      { channel: 'left', between: ['a@left', 'b@left'] },
      { channel: 'right', between: ['a@left', 'b@right'] },
    ]);
    expect(expand('R1', { kind: 'resistor', value: '1k', between: ['a@left', 'a@right'] }).parts).toMatchObject([
      { channel: null },
    ]);
  });

  it('reports a fault of both channels once, at the lead', () => {
    const { diagnostics } = expand('C1/C2', { kind: 'capacitor', value: '1n', plus: 'a@middle', minus: 'gnd' });
    expect(diagnostics).toMatchObject([{ code: 'unknown-node', place: { file: 'added.C1/C2.plus value' } }]);
  });

  it('takes a winding without resistance as 0 Ω and keeps silent what is silent', () => {
    const [inductor] = expand('L1', { kind: 'inductor', value: '10 mH', between: ['vcc', 'gnd'] }).parts;
    expect(inductor).toMatchObject({ ohms: 0, channel: null });
    expect(inductor).not.toHaveProperty('tolerance');
  });
});

describe('a name that is not known', () => {
  it('is answered with the nearest one, or with what there is', () => {
    expect(nearest('colector', ['base', 'collector', 'emitter'])).toBe('collector');
    // Neighbours swapped are one slip, not two.
    expect(nearest('tpye', ['seat', 'type'])).toBe('type');
    expect(nearest('wholly different', ['base', 'collector'])).toBeNull();
    expect(suggestion('x'.repeat(5000), ['y'.repeat(5000), 'b'])).toContain('known: ');
    expect(suggestion('a', [])).toBe('there is none');
  });
});
