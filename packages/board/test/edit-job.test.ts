import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { editJob } from '../src/edit/edit-job.ts';
import { jobForBoard } from '../src/edit/job-for-board.ts';
import type { JobEdit } from '../src/edit/job-edit.ts';
import { readJob } from '../src/read-job.ts';
import { jobText } from './job-texts.ts';

const seedJob = readFileSync(new URL('../../../seeds/jobs/lk417.job.yaml', import.meta.url), 'utf8');

/** The text after the edits, one after the other; throws with the diagnostics of the first that is refused. */
function edited(text: string, ...edits: readonly JobEdit[]): string {
  return edits.reduce((now, edit) => {
    const outcome = editJob(now, 'j.job.yaml', edit);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.diagnostics));
    return outcome.value;
  }, text);
}

/** What `positions:` with these lines turns into. */
function positionsAfter(lines: string, ...edits: readonly JobEdit[]): string {
  const text = edited(jobText(`positions:\n${lines}`), ...edits);
  const head = jobText('').trimEnd() + '\npositions:';
  expect(text.startsWith(head)).toBe(true);
  return text.slice(head.length).replace(/^\n/, '').trimEnd();
}

/** `code at line:column` of each reason why an edit is refused. */
function refusals(text: string, edit: JobEdit): readonly string[] {
  const outcome = editJob(text, 'j.job.yaml', edit);
  return outcome.ok ? [] : outcome.diagnostics.map(({ code, place }) => `${code} at ${place.line}:${place.column}`);
}

const setValue = (position: string, value: string): JobEdit => ({ kind: 'set', position, path: 'fit.value', value });
const clear = (position: string, path: Extract<JobEdit, { kind: 'clear' }>['path']): JobEdit => ({
  kind: 'clear',
  position,
  path,
});

describe('one value', () => {
  it('changes where it stands, whatever is around it', () => {
    const before = [
      '  # the bass',
      '  C101: {fit: {value: 1 µF,   build: film}, why: worn, left in}   # flow, close-set',
      '',
      '  C102:   # block',
      '      fit:',
      '          value:   1 µF   # as drawn',
      '          build: film',
    ].join('\n');
    expect(positionsAfter(before, setValue('C101', '3.3 µF'), setValue('C102', '33 µF'))).toBe(
      before.replace('value: 1 µF', 'value: 3.3 µF').replace('value:   1 µF', 'value:   33 µF'),
    );
  });

  it('keeps the quotes it stood in, and gets some only where YAML needs them', () => {
    const why = (value: string): JobEdit => ({ kind: 'set', position: 'R101', path: 'why', value });
    expect(positionsAfter('  R101: { why: "a" }', why('b'))).toBe('  R101: { why: "b" }');
    expect(positionsAfter("  R101: { why: 'a' }", why("it's"))).toBe("  R101: { why: 'it''s' }");
    expect(positionsAfter('  R101: { why: a }', why('b, c'))).toBe("  R101: { why: 'b, c' }");
    expect(positionsAfter('  R101:\n    why: a', why('b, c'))).toBe('  R101:\n    why: b, c');
    expect(positionsAfter('  R101:\n    why: a', why('b: c'))).toBe("  R101:\n    why: 'b: c'");
    expect(positionsAfter('  R101:\n    why: a', why('b\nc'))).toBe('  R101:\n    why: "b\\nc"');
    expect(positionsAfter('  R101:\n    why: | # note\n      a\n      b\n\n  R102: {}', why('c'))).toBe(
      '  R101:\n    why: c # note\n\n  R102: {}',
    );
  });

  it('replaces a text that runs over a comma inside brackets as a whole', () => {
    expect(
      positionsAfter('  R101: { why: worn, left in }', { kind: 'set', position: 'R101', path: 'why', value: 'new' }),
    ).toBe('  R101: { why: new }');
  });

  it('gives back the same text where it is that value already', () => {
    expect(edited(seedJob, setValue('C101', '2.2 µF'))).toBe(seedJob);
  });

  it('leaves a byte order mark and CRLF line ends', () => {
    const text = `\ufeff${seedJob.replaceAll('\n', '\r\n')}`;
    const after = edited(
      text,
      { kind: 'set', position: 'R111', path: 'fit', value: { value: '1 kΩ' } },
      { kind: 'field', field: 'photos', value: ['a.jpg'] },
      { kind: 'limit', limit: 'hiss', key: 'good', value: '1 µV' },
    );
    expect(after.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(after).toContain("\r\n  R111: { fit: { value: 1 kΩ }, why: 'reads 1 % high, left in' }\r\n");
    expect(after).toMatch(/\r\nphotos: \[a\.jpg\]\r\nreadings:/);
    expect(after).toMatch(/\r\nlimits:\r\n {2}hiss: \{ good: 1 µV \}\r\n$/);
  });
});

describe('a key that is not there yet', () => {
  it('goes in its usual place, in the way its neighbours are written', () => {
    expect(positionsAfter('  C101: { why: x }', setValue('C101', '1 µF'))).toBe(
      '  C101: { fit: { value: 1 µF }, why: x }',
    );
    expect(positionsAfter('  C101:\n    # worn\n    why: x   # by ear', setValue('C101', '1 µF'))).toBe(
      '  C101:\n    fit: { value: 1 µF }\n    # worn\n    why: x   # by ear',
    );
    expect(positionsAfter('  C101: {fit: {build: film, rated: 63 V}}', setValue('C101', '1 µF'))).toBe(
      '  C101: {fit: {build: film, value: 1 µF, rated: 63 V}}',
    );
    expect(positionsAfter('  C101:\n    fit:\n      build: film # old stock', setValue('C101', '1 µF'))).toBe(
      '  C101:\n    fit:\n      build: film # old stock\n      value: 1 µF',
    );
  });

  it('gets a line of its own in brackets that have one for each key', () => {
    const lines = (build: string, more: string): string =>
      `  C101: {\n    fit: {\n      build: ${build}\n${more}    },\n  }`;
    expect(positionsAfter(lines('film  # blue', ''), setValue('C101', '1 µF'))).toBe(
      lines('film,  # blue', '      value: 1 µF\n'),
    );
    expect(positionsAfter(lines('film,  # blue', ''), setValue('C101', '1 µF'))).toBe(
      lines('film,  # blue', '      value: 1 µF,\n'),
    );
  });

  it('takes the place of nothing, of empty brackets and of none', () => {
    for (const empty of ['', ' {}', ' { }']) {
      expect(positionsAfter(`  C101:${empty} # c`, setValue('C101', '1 µF'))).toBe(
        '  C101: { fit: { value: 1 µF } } # c',
      );
    }
    expect(positionsAfter('  C101: { fit: none }', setValue('C101', '1 µF'))).toBe('  C101: { fit: { value: 1 µF } }');
    for (const empty of ['positions:', 'positions: {}', 'positions: { }']) {
      expect(edited(jobText(`${empty} # c\nphotos: []`), setValue('C101', '1 µF'))).toBe(
        jobText('positions: # c\n  C101: { fit: { value: 1 µF } }\nphotos: []'),
      );
    }
  });

  it('stands in brackets that hold nothing but a comment', () => {
    expect(edited(jobText('positions: { # none\n  }'), setValue('C101', '1 µF'))).toBe(
      jobText('positions: { # none\n  C101: { fit: { value: 1 µF } } }'),
    );
  });

  it('stands as far in as the file does, also behind a byte order mark', () => {
    const text = '\ufeffjob: 1\ntitle: t\nboard: b\nunit:\n    model: x\n';
    expect(edited(text, setValue('C101', '1 µF'))).toBe(`${text}positions:\n    C101: { fit: { value: 1 µF } }\n`);
  });

  it('leaves what else is empty, and a comment between the colon and the brackets', () => {
    expect(positionsAfter('  C101: {}\n  C103:', setValue('C101', '1 µF'))).toBe(
      '  C101: { fit: { value: 1 µF } }\n  C103:',
    );
    expect(edited(jobText('positions: # c\n  {}'), setValue('C101', '1 µF'))).toBe(
      jobText('positions: # c\n  { C101: { fit: { value: 1 µF } } }'),
    );
  });

  it('makes the table it belongs to', () => {
    expect(edited('job: 1\ntitle: t\nboard: b', setValue('C101', '1 µF'))).toBe(
      'job: 1\ntitle: t\nboard: b\npositions:\n  C101: { fit: { value: 1 µF } }',
    );
    expect(edited(jobText('reminders: [x]'), { kind: 'limit', limit: 'deviation', key: 'good', value: '0.7 dB' })).toBe(
      jobText('reminders: [x]\nlimits:\n  deviation: { good: 0.7 dB }'),
    );
  });
});

describe('what is taken out', () => {
  it('goes with its comma or its lines, and with the comments on them', () => {
    expect(positionsAfter('  C101: { fit: { build: film, value: 1 µF }, why: x }', clear('C101', 'fit.build'))).toBe(
      '  C101: { fit: { value: 1 µF }, why: x }',
    );
    expect(positionsAfter('  C101: { fit: { build: film, value: 1 µF }, why: x }', clear('C101', 'why'))).toBe(
      '  C101: { fit: { build: film, value: 1 µF } }',
    );
    expect(
      positionsAfter('  C101:\n    fit: { value: 1 µF }\n    why: x # gone\n  # stays', clear('C101', 'why')),
    ).toBe('  C101:\n    fit: { value: 1 µF }\n  # stays');
  });

  it('takes along a fit that it leaves empty, not the position', () => {
    expect(positionsAfter('  C101: { fit: { value: 1 µF } }', clear('C101', 'fit.value'))).toBe('  C101: {}');
    expect(positionsAfter('  C101:\n    fit: { value: 1 µF } # a', clear('C101', 'fit.value'))).toBe('  C101: {}');
  });

  it('leaves the headings above a removed position, and takes what stands inside it', () => {
    const lines = '  # input\n  C101:\n    why: x\n\n    # next time film\n\n  # output\n  C113: { why: y }';
    expect(positionsAfter(lines, { kind: 'remove', position: 'C101' })).toBe(
      '  # input\n\n  # output\n  C113: { why: y }',
    );
  });

  it('leaves the comments between what stands in brackets', () => {
    const lines = '  C101: { # a\n    fit: none, # b\n    why: x }';
    expect(positionsAfter(lines, clear('C101', 'why'))).toBe('  C101: { # a\n    fit: none, # b\n     }');
    expect(positionsAfter(lines, clear('C101', 'why'), clear('C101', 'fit'))).toBe('  C101: { # a\n     }');
  });

  it('is an item of a list, with its own comment', () => {
    const lines = 'reminders:\n- a # 1\n- b # 2\n- c # 3';
    expect(edited(jobText(lines), { kind: 'field', field: 'reminders', value: ['a', 'c'] })).toBe(
      jobText(lines.replace('- b # 2\n', '')),
    );
  });

  it('is a field beside the tables', () => {
    expect(edited(seedJob, { kind: 'field', field: 'complaint', value: null })).toBe(
      seedJob.replace(/^complaint: .*\n/m, ''),
    );
  });

  it('is the first key behind the dash of a list', () => {
    const lines = '  D103:\n    fit:\n      - type: DS-A  # a\n        rated: 1 W\n      - { type: DS-A }';
    expect(positionsAfter(lines, clear('D103', 'fit.0.type'))).toBe(lines.replace('type: DS-A  # a', '  # a'));
  });
});

describe('a pair and its members', () => {
  const pair = '  C101/C102: { pulled: { esr: 1 Ω }, fit: { build: film, value: 1 µF } } # both\n  R1: {}';

  it('gives the one that is changed alone an entry of its own behind the pair', () => {
    expect(positionsAfter(pair, setValue('C102', '2 µF'))).toBe(
      pair.replace('\n', '\n  C102: { fit: { build: film, value: 2 µF } }\n'),
    );
  });

  it('changes an entry of its own where there is one', () => {
    const both = setValue('C102', '2 µF');
    expect(positionsAfter(pair, both, setValue('C102', '3 µF'))).toBe(
      pair.replace('\n', '\n  C102: { fit: { build: film, value: 3 µF } }\n'),
    );
  });

  it('does not get what only one of them says', () => {
    const lines = '  C101/C102: { pulled: { esr: 1 Ω } }\n  C101: { why: x }';
    expect(positionsAfter(lines, { kind: 'set', position: 'C102', path: 'why', value: 'y' })).toBe(
      lines.replace('\n', '\n  C102: { why: y }\n'),
    );
  });

  it('reaches every entry of its members', () => {
    expect(positionsAfter(pair, setValue('C102', '2 µF'), setValue('C101/C102', '4 µF'))).toBe(
      pair.replace('1 µF', '4 µF').replace('\n', '\n  C102: { fit: { build: film, value: 4 µF } }\n'),
    );
    const alone = '  C101/C102: {}\n  C101: { why: x }\n  C102: { why: y }';
    expect(positionsAfter(alone, { kind: 'set', position: 'C101/C102', path: 'why', value: 'z' })).toBe(
      alone.replace(': x', ': z').replace(': y', ': z'),
    );
    expect(positionsAfter('  C101: { why: x }', setValue('C101/C102', '4 µF'))).toBe(
      '  C101: { fit: { value: 4 µF }, why: x }\n  C102: { fit: { value: 4 µF } }',
    );
  });

  it('is taken apart where one of them is not to say a thing any more', () => {
    expect(positionsAfter(pair, clear('C102', 'fit'))).toBe(
      pair.replace('C101/C102', 'C101').replace('\n', '\n  C102: { pulled: { esr: 1 Ω } }\n'),
    );
    expect(positionsAfter(pair, { kind: 'remove', position: 'C101' })).toBe(pair.replace('C101/C102', 'C102'));
    expect(positionsAfter(pair, { kind: 'remove', position: 'C101/C102' })).toBe('  R1: {}');
  });

  it('can be added, once', () => {
    const add: JobEdit = { kind: 'add', position: 'R101/R102', entry: { fit: { value: '47 kΩ' }, why: 'noisy' } };
    expect(positionsAfter('  R1: {}', add)).toBe('  R1: {}\n  R101/R102:\n    fit: { value: 47 kΩ }\n    why: noisy');
    expect(refusals(edited(jobText('positions:\n  R1: {}'), add), add)).toEqual(['wrong-form at 7:5']);
  });
});

describe('an edit is refused', () => {
  it('where the text is no YAML, no mapping, or has a key twice', () => {
    expect(refusals('job: [', setValue('C101', '1 µF'))).toHaveLength(1);
    expect(refusals('- a', setValue('C101', '1 µF'))).toEqual(['wrong-form at 1:1']);
    expect(refusals(jobText('positions:\n  R1: {}\n  R1: {}'), setValue('C101', '1 µF'))).toEqual([
      'yaml-syntax at 6:3',
    ]);
  });

  const listed = jobText(
    'ambient: 25 °C\npositions:\n  C101: { fit: { value: 1 µF } }\n  D103: { fit: [{ type: DS-A }] }',
  );

  it('where the value cannot be, at the place it would have', () => {
    expect(refusals(listed, setValue('C101', 'lots'))).toEqual(['not-a-quantity at 6:25']);
    expect(refusals(listed, { kind: 'field', field: 'ambient', value: '25' })).toEqual(['bare-number at 4:10']);
    expect(refusals(listed, { kind: 'field', field: 'title', value: null })).toEqual(['missing-key at 2:8']);
    expect(refusals(listed, setValue('nothing', '1 µF'))).toEqual(['not-a-designator at 5:1']);
  });

  it('where a list or a text is in the way', () => {
    expect(refusals(listed, setValue('D103', '1 µF'))).toEqual(['wrong-form at 7:11']);
    expect(refusals(jobText('positions: []'), setValue('C101', '1 µF'))).toEqual(['wrong-form at 4:12']);
    expect(refusals(jobText('positions: { C101: x }'), setValue('C101', '1 µF'))).toEqual(['wrong-form at 4:20']);
  });

  it('where the key or what another one repeats would have to go', () => {
    const asked = jobText('positions:\n  ? C101\n  : { why: x }');
    expect(refusals(asked, { kind: 'set', position: 'C102', path: 'why', value: 'y' })).toEqual(['wrong-form at 4:1']);
    const repeated = jobText('positions:\n  C101: &c { why: x }\n  C103: *c');
    expect(refusals(repeated, { kind: 'remove', position: 'C101' })).toEqual(['wrong-form at 5:12']);
  });

  it('not where the job had that fault already', () => {
    const faulty = jobText('ambient: 25\npositions: { C101: { fit: { value: 10 } } }');
    expect(edited(faulty, setValue('C101', '10 µF'))).toBe(faulty.replace('10 }', '10 µF }'));
  });
});

describe('a value that another one repeats', () => {
  const repeated = jobText('positions:\n  C101: &c { fit: { value: 1 µF } }\n  C103: *c');

  it('is written out where it is to say something else, or no longer the same', () => {
    expect(edited(repeated, setValue('C103', '2 µF'))).toBe(repeated.replace('*c', '{ fit: { value: 2 µF } }'));
    expect(edited(repeated, setValue('C101', '2 µF'))).toBe(
      repeated.replace('1 µF', '2 µF').replace('*c', '{ fit: { value: 1 µF } }'),
    );
  });

  it('gets a line for each key, unless a comment stands before it', () => {
    const why: JobEdit = { kind: 'set', position: 'C103', path: 'why', value: 'x' };
    expect(edited(repeated, why)).toBe(repeated.replace(' *c', '\n    fit: { value: 1 µF }\n    why: x'));
    const noted = repeated.replace('*c', '# as C101\n    *c');
    expect(edited(noted, why)).toBe(noted.replace('*c', '{ fit: { value: 1 µF }, why: x }'));
  });
});

describe('a new job for a board', () => {
  it('reads back, whatever its title, and takes positions', () => {
    for (const title of ['plain', 'pops: left', "# it's", '{', '', '~', '- a', 'µ\u2028"']) {
      const text = jobForBoard('../boards/a b #1.board.yaml', title, '2026-03-01');
      const outcome = readJob(text, 'j');
      expect(outcome.ok && outcome.value.value).toEqual({
        job: 1,
        title,
        board: '../boards/a b #1.board.yaml',
        date: '2026-03-01',
        ambient: 25,
        positions: {},
      });
      expect(edited(text, setValue('C101', '1 µF'))).toBe(
        text.replace('positions: {}', 'positions:\n  C101: { fit: { value: 1 µF } }'),
      );
    }
  });
});
