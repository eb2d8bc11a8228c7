import { describe, expect, it } from 'vitest';
import { checkText, proofFacts, proofSheet, reworkDocument, type ProofContent } from '../../src/index.ts';
import { inventedContent, inventedSheet } from './proof-content.ts';

const sheetOf = (content: ProofContent): string => proofSheet(proofFacts(content), content, 'c0de');

/** Words of the page, tags taken away. */
const wordsOf = (html: string): string =>
  html
    .replace(/<style>[^]*?<\/style>/g, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ');

describe('the proof', () => {
  const html = sheetOf(inventedContent());
  const words = wordsOf(html);

  it('tells whose unit, whose work, and what came of it', () => {
    for (const each of ['X 1', '007', '2026-03-01', 'T. T.', 'pops', 'Bench', '1 Mill Lane', '555 0100', 'Thank you.'])
      expect(words).toContain(each);
    expect(words).toContain('✕ fail');
    expect(words).toContain('1 outside the limits · 2 to look at');
    expect(words).toContain('C103: 22 µF costs 1.9 dB at 20 Hz.');
  });

  it('puts parts that read alike on one row, those that do not on their own', () => {
    expect(html).toMatch(/<th scope="row" class="refs">C101 C102<\/th>/);
    expect(html).toMatch(/<th scope="row" class="refs">C103<\/th>/);
    expect(words).toContain('reads 1 % high');
  });

  it('sets what was read beside what is computed, with the difference', () => {
    expect(words).toMatch(/Q101\.collector found 2\.50 3\.00 \+20\.0 % V/);
    expect(words).toMatch(/hiss, left found 0\.34 0\.50 \+0\.16 µV/);
    expect(words).toMatch(/pops, right found – 12\.0 – a minute/);
    expect(words).toContain('Heard as found: popping, right.');
    expect(words).toMatch(/vcc 12\.0/);
  });

  it('says what was not measured, and that software proves no safety', () => {
    expect(words).toContain('Voltages as rebuilt: none was read');
    expect(words).toContain('Hiss, hum and pops as rebuilt: not measured');
    expect(words).toContain('Software cannot prove a unit safe.');
  });

  it('names its inputs with their digests, its program and its check code', () => {
    expect(html).toContain(`data-file="../x.board.yaml" data-sha256="${'b'.repeat(64)}"`);
    expect(words).toContain('Computed by Curvewright 1.2.3');
    expect(words).toContain('c0de');
  });

  it('needs nothing but itself: no script, no address, no font from elsewhere', () => {
    expect(html).not.toMatch(/<script|<link|<img|<iframe|url\(|@import|\ssrc=|\shref=/);
    expect(html.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:/);
    expect(html).toContain('content="default-src &#39;none&#39;; style-src &#39;unsafe-inline&#39;"');
  });
});

describe('foreign text', () => {
  const evil = `<img src=x onerror="alert(1)">'&\u202E`;
  const content = inventedContent();
  const named: ProofContent = {
    ...content,
    shop: { shop: 1, name: evil, address: [evil], phone: evil, mail: evil, note: evil },
    answer: {
      ...content.answer,
      title: evil,
      findings: content.answer.findings.map((finding) => ({ ...finding, cause: evil, next: evil, ref: evil })),
    },
    sheet: {
      ...inventedSheet,
      ...{ board: evil, unit: { model: evil, serial: evil }, date: evil, technician: evil, complaint: evil },
      rows: inventedSheet.rows.map((row) => ({
        ...row,
        ref: evil,
        drawn: evil,
        pulled: evil,
        fitted: evil,
        why: evil,
      })),
      left: [{ ref: evil, what: evil, pulled: evil, why: evil, photos: [evil] }],
      ...{ cautions: [evil], reminders: [evil], photos: [evil] },
      purchase: [
        {
          ...{ stock: evil, what: evil, refs: [evil], quantity: 1, inDrawer: null },
          toBuy: 1,
          price: null,
          total: null,
        },
      ],
    },
    inputs: [{ role: 'job', name: evil, bytes: 1, sha256: 'c'.repeat(64) }],
  };
  const plain = inventedContent();
  const tagsOf = (html: string): readonly string[] => [...new Set(html.match(/<\/?[a-zA-Z][\w-]*/g) ?? [])].toSorted();

  it.each([
    ['proof', sheetOf(named), sheetOf(plain)],
    [
      'rework sheet',
      reworkDocument(named),
      reworkDocument({ ...plain, sheet: { ...inventedSheet, purchase: named.sheet.purchase } }),
    ],
  ])('stays text in a %s', (_, html, harmless) => {
    expect(html).toContain('&lt;img src=x onerror=&quot;alert(1)&quot;&gt;&#39;&amp;');
    expect(html).not.toContain('\u202E');
    expect(tagsOf(html)).toEqual(tagsOf(harmless));
  });
});

describe('the check code', () => {
  it('covers every fact but the version of the program', () => {
    const facts = proofFacts(inventedContent());
    expect(checkText({ ...facts, version: '9.9.9' })).toBe(checkText(facts));
    for (const key of Object.keys(facts).filter((each) => each !== 'version'))
      expect(checkText({ ...facts, [key]: 'other' }), key).not.toBe(checkText(facts));
  });
});
