import { circuitWithValue, type Capacitor } from '@curvewright/board';
import { checkBoard, checkJob, gainReader, solveStage, type CheckAnswer, type Finding } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { seedBoard, seedJob, seedNames, valueOf } from './read-seeds.ts';

describe('the demo boards', () => {
  it.each(seedNames)('%s is good as drawn: a demo starts from a healthy board', (name) => {
    const { verdict, findings, states } = valueOf(checkBoard(seedBoard(name)));
    expect(verdict).toBe('good');
    expect(findings.every(({ level, margin }) => level === 'good' && margin >= 0)).toBe(true);
    expect(states.drawn.channels.map((channel) => channel.name)).toEqual(['left', 'right']);
    // Twin channels of the same parts; what differs is rounding.
    expect(states.drawn.balanceDb!).toBeLessThan(1e-9);
    // Each stands behind a coupling capacitor, so that its output DC is judged.
    expect(findings.filter(({ what }) => what === 'output_dc')).toHaveLength(2);
  });
});

describe('the demo job', () => {
  const answer: CheckAnswer = valueOf(checkJob(seedJob()));
  const findings = (state: string, channel: string, what: string): readonly Finding[] =>
    answer.findings.filter((each) => each.state === state && each.channel === channel && each.what === what);

  it('is good as drawn, fails on the right channel as found, and comes to a look as rebuilt', () => {
    const levels = (state: string): readonly string[] => answer.findings.filter((each) => each.state === state).map(({ level }) => level);
    expect(new Set(levels('drawn'))).toEqual(new Set(['good']));
    for (const what of ['deviation', 'bass']) {
      expect(findings('found', 'right', what)[0]!.level).toBe('fail');
      expect(findings('found', 'left', what)[0]!.level).not.toBe('fail');
    }
    expect(levels('rebuilt')).not.toContain('fail');
    expect(answer.verdict).toBe('look');
    expect(answer.findings.filter(({ counts }) => counts).every(({ state }) => state === 'rebuilt')).toBe(true);
  });

  it('lays the thin bass of the right channel to the dried-out C104', () => {
    for (const what of ['deviation', 'bass']) {
      const [finding] = findings('found', 'right', what);
      expect(finding!.ref).toBe('C104');
      expect(finding!.cause).toMatch(/^C104 \(8\.2 µF for 22 µF\) moves it by −/);
    }
  });

  it('sees the leaky C114 as DC at the output', () => {
    const [finding] = findings('found', 'right', 'output_dc');
    expect([finding!.level, finding!.ref]).toEqual(['look', 'C114']);
  });

  it('lays what is left as rebuilt to C103 and C104 and offers 33 µF for both', () => {
    for (const [channel, own, twin] of [
      ['left', 'C103', 'C104'],
      ['right', 'C104', 'C103'],
    ] as const) {
      const [finding] = findings('rebuilt', channel, 'bass');
      expect(finding!.level).toBe('look');
      expect(finding!.cause).toMatch(new RegExp(`; ${own}: 22 µF equals the \\d+ Ω around it at [\\d.]+ Hz and costs [\\d.]+ dB at 20 Hz; `));
      expect(finding!.cause).toContain(`33 µF at ${own} and ${twin} leaves −`);
      // C103 sees 0.66 V at most from switch-on to rest: the lowest rating serves.
      expect(finding!.next).toBe(`fit 33 µF, 6.3 V or more, plus to leg, at ${own} and ${twin}`);
    }
  });

  it('is good once that is fitted', () => {
    const job = seedJob();
    const positions = job.positions.map((position) => {
      const { drawn, fitted } = position;
      if (fitted === undefined || (drawn.ref !== 'C103' && drawn.ref !== 'C104')) return position;
      const parts = fitted.parts.map((part) => ({ ...(part as Capacitor), farads: 33e-6 }));
      return { ...position, fitted: { ...fitted, parts } };
    });
    expect(valueOf(checkJob({ ...job, positions })).verdict).toBe('good');
  });

  it('says what it computes as ideal, and what it does not compute', () => {
    expect(answer.states.rebuilt!.ideal).toContainEqual({ figure: 'no ESR', refs: expect.arrayContaining(['C101']) as string[] });
    expect(answer.states.found!.notes).toEqual(['C102: intermittent; kept, not computed']);
  });

  it('prints how long a check takes', { timeout: 60_000 }, () => {
    const job = seedJob();
    const took = [1, 2, 3].map(() => {
      const before = process.cpuUsage().user;
      valueOf(checkJob(job));
      return Math.round((process.cpuUsage().user - before) / 1000);
    });
    console.log(`check of the demo job: ${took.join(', ')} ms of processor time`);
    expect(took).toHaveLength(3);
  });
});

describe('the direct-coupled board', () => {
  it('answers to a change of its input capacitor otherwise than the corner formula says', () => {
    const { circuit } = seedBoard('lk205');
    const frequencies = [5, 7, 10, 14, 20];
    const deviations = (farads: number): readonly number[] => {
      const both = ['C101', 'C102'].reduce((before, ref) => circuitWithValue(before, ref, farads), circuit);
      const reader = gainReader(valueOf(solveStage(both)));
      return frequencies.map((hz) => reader.deviationDb(0, hz));
    };
    const [small, large] = [deviations(0.47e-6), deviations(1e-6)];
    const changes = large.map((db, i) => db - small[i]!);
    const signed = (db: number): string => `${db < 0 ? '−' : '+'}${Math.abs(db).toFixed(2)} dB`;
    // Common practice, no source: 0.47 → 1 µF moves the capacitor's own corner by 2.13, which on a passive high-pass never loses bass.
    console.log(
      `lk205, input capacitor 0.47 → 1 µF: ${frequencies.map((hz, i) => `${hz} Hz ${signed(changes[i]!)}`).join(', ')}; ` +
        `back to 0.47 µF: ${frequencies.map((hz, i) => `${hz} Hz ${signed(-changes[i]!)}`).join(', ')}`,
    );
    expect(changes.every(Number.isFinite)).toBe(true);
    // The bias loop and the capacitor resonate: at 10 Hz and above the larger capacitor gives less level.
    expect(changes[2]!).toBeLessThan(0);
    expect(changes[4]!).toBeLessThan(0);
  });
});
