import { el, type Content, type Html } from './html.ts';
import type { ProofFacts } from './proof-facts.ts';
import { section, sheetTable, type SheetCell, type SheetColumn } from './sheet-parts.ts';

/** Voltages that a meter will read, and those that were read. */
export function voltageSection(facts: ProofFacts): Html {
  const { voltages, readings, meters, heard } = facts;
  const isAtZero = ({ volts }: (typeof voltages.rows)[number]): boolean => volts.every((text) => Number(text) === 0);
  const atZero = voltages.rows.filter(isAtZero).map(({ node }) => node);
  const chart = sheetTable(
    { label: 'Voltages', caption: `Rebuilt, computed as a meter of ${voltages.meter} reads it to gnd, V` },
    [{ head: 'node', names: true }, ...voltages.channels.map((head): SheetColumn => ({ head, class: 'number' }))],
    voltages.rows
      .filter((row) => !isAtZero(row))
      .map(({ node, volts }) => [
        { text: node },
        ...voltages.channels.map((channel, c): SheetCell => {
          const text = volts[c];
          // A node that the channels share stands once.
          return text === undefined ? { text: '' } : { text, figure: `rebuilt ${channel} volts ${node}` };
        }),
      ]),
  );
  return section(
    'Voltages, computed and read',
    el(
      'div',
      { class: 'pair' },
      el('div', {}, chart, zeroWords(atZero)),
      el('div', {}, readingTable(readings, meters), heardWords(heard)),
    ),
  );
}

function readingTable(readings: ProofFacts['readings'], meters: readonly string[]): Html {
  if (readings.length === 0) return el('p', {}, 'Nothing was read.');
  const columns: readonly SheetColumn[] = [
    { head: 'reading', names: true },
    { head: 'as' },
    { head: 'computed', class: 'number' },
    { head: 'read', class: 'number' },
    { head: 'off', class: 'number' },
    { head: '' },
  ];
  const by = meters.length === 0 ? '' : ` with ${meters.join(' and ')}; computed with it in place`;
  return sheetTable(
    { label: 'Readings', caption: `Read on the bench${by}` },
    columns,
    readings.map(({ when, what, unit, predicted, read, off }) => [
      { text: what },
      { text: when },
      { text: predicted, figure: `computed ${when} ${what}` },
      { text: read, figure: `read ${when} ${what}` },
      { text: off },
      { text: unit },
    ]),
  );
}

function zeroWords(nodes: readonly string[]): Content {
  return nodes.length === 0 ? '' : el('p', { class: 'small' }, `At 0 V: ${nodes.join(', ')}.`);
}

function heardWords(heard: readonly string[]): Content {
  return heard.length === 0 ? '' : el('p', { class: 'small' }, `Heard ${heard.join('; ')}.`);
}
