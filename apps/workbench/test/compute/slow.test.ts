import { checkJob } from '@curvewright/verify';
import { describe, expect, it } from 'vitest';
import { createCompute } from '../../src/compute/compute.ts';
import type { SlowKind, SlowOutcome } from '../../src/contract/compute.ts';
import { boardAlone, demo, demoJob, jobText, legsOf, rowOf, valueOf } from './demo.ts';

// Whole checks of the demo job, some seconds each.
const patience = 60_000;
const silent = (): void => undefined;

function answerOf<K extends SlowKind>(
  outcome: SlowOutcome<K>,
): Extract<SlowOutcome<K>, { outcome: 'answered' }>['answer'] {
  if (outcome.outcome !== 'answered') throw new Error(outcome.outcome);
  return outcome.answer;
}

describe('told', () => {
  const compute = createCompute();

  it('completes the sheet with what check answers, and with the hiss of the rows', { timeout: patience }, async () => {
    const shares: number[] = [];
    const told = await compute.slow({ kind: 'told', subject: demo(1), state: null }, (revision, share) => {
      expect(revision).toBe(1);
      shares.push(share);
    });
    const view = answerOf(told);
    expect(shares.length).toBeGreaterThan(5);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    // The new transistors are the quieter ones.
    expect(rowOf(view, 'Q101/Q102').effect?.hissDb).toBeLessThan(-0.1);
    const named = (view.check?.findings ?? []).filter(({ ref }) => ref === 'C113');
    expect(named.length).toBeGreaterThan(0);
    expect(rowOf(view, 'C113').findings).toEqual(named);

    // Drawn and found are taken from the answer before.
    const next = await compute.slow({ kind: 'told', subject: demo(2, legsOf('47 µF')), state: null }, silent);
    expect(answerOf(next).check).toEqual(valueOf(checkJob(demoJob(legsOf('47 µF')))));
  });

  it('is overtaken by what is newer, in hand or waiting', { timeout: patience }, async () => {
    const ask = (revision: number): Promise<SlowOutcome<'told'>> =>
      compute.slow({ kind: 'told', subject: demo(revision, legsOf('68 µF')), state: null }, silent);
    const outcomes = await Promise.all([
      ask(10),
      ask(11),
      compute.slow({ kind: 'noise', subject: demo(12), state: null }, silent),
    ]);
    expect(outcomes.map(({ outcome, revision }) => [revision, outcome])).toEqual([
      [10, 'overtaken'],
      [11, 'overtaken'],
      [12, 'answered'],
    ]);
    const inHand = compute.slow(
      { kind: 'told', subject: demo(13, legsOf('68 µF')), state: null },
      () => void compute.overtake(13),
    );
    expect(await inHand).toEqual({ revision: 13, outcome: 'overtaken' });
    expect(await ask(13)).toEqual({ revision: 13, outcome: 'overtaken' });
  });
});

describe('the other slow answers', () => {
  const compute = createCompute();

  it('speak of the state that is asked for', { timeout: patience }, async () => {
    const noise = async (state: 'drawn' | null): Promise<number | undefined> =>
      answerOf(await compute.slow({ kind: 'noise', subject: demo(1), state }, silent)).channels[0]?.inputAWeightedUv;
    expect(await noise(null)).toBeLessThan((await noise('drawn')) ?? 0);
    const loading = answerOf(await compute.slow({ kind: 'loading', subject: boardAlone(1), state: null }, silent));
    expect(loading.cartridge).not.toBeNull();
    const settle = answerOf(await compute.slow({ kind: 'settle', subject: demo(1), state: null }, silent));
    expect(settle.channels.map(({ settleS }) => settleS)).not.toContain(null);
  });

  it('put headroom together from its frequencies', { timeout: patience }, async () => {
    const headroom = answerOf(await compute.slow({ kind: 'headroom', subject: boardAlone(1), state: null }, silent));
    expect(headroom.channels.map(({ name }) => name)).toEqual(['left', 'right']);
    expect(headroom.channels[1]?.overload.map(({ hz }) => hz)).toEqual([20, 100, 1000, 10_000, 20_000]);
  });

  it('spread the board the same each time', { timeout: patience }, async () => {
    const spread = async (): Promise<unknown> =>
      answerOf(await compute.slow({ kind: 'spread', subject: boardAlone(1), state: null }, silent));
    const first = await spread();
    expect(first).toMatchObject({ boards: 1000 });
    expect(await spread()).toEqual(first);
  });

  it('are refused where the subject cannot be read', async () => {
    const broken = demo(2, jobText.replace('2.2 µF', '2,2 µF'));
    const outcome = await compute.slow({ kind: 'noise', subject: broken, state: null }, silent);
    expect(outcome).toMatchObject({ revision: 2, outcome: 'refused', diagnostics: [{ code: 'comma-decimal' }] });
  });
});

describe('glance', () => {
  it('has title and verdict of a check, and waits for slow answers', { timeout: patience }, async () => {
    const compute = createCompute();
    const done: string[] = [];
    const [glance, told] = await Promise.all([
      compute.glance(boardAlone(5)).finally(() => done.push('glance')),
      compute.slow({ kind: 'told', subject: boardAlone(1), state: null }, silent).finally(() => done.push('told')),
    ]);
    const { title, check } = answerOf(told);
    expect(glance).toEqual({ revision: 5, ok: true, title, verdict: check?.verdict });
    expect(done).toEqual(['told', 'glance']);
  });

  it('says what is wrong with a text', async () => {
    const glance = await createCompute().glance(demo(6, 'job: 1'));
    expect(glance).toMatchObject({ revision: 6, ok: false });
  });
});
