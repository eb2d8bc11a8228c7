import type { CheckAnswer, ComparedRound, MeasuredAnswer } from '@curvewright/verify';
import { db, decimals, quantity } from '../numbers.ts';

/** What figures of the rebuilt board were when they were measured, by label and channel; recordings first, hiss and hum by the meter where no recording tells them. */
export function measuredFacts({
  answer,
  rounds,
}: {
  readonly answer: CheckAnswer;
  readonly rounds: readonly ComparedRound[];
}): Readonly<Record<string, readonly string[]>> | null {
  const { channels, states } = answer;
  const measured = states.measured?.state === 'rebuilt' ? states.measured : null;
  const after = rounds.filter(({ round }) => round.state === 'rebuilt').map(({ round }) => round);
  const read = (name: string, of: 'hiss' | 'hum'): number | undefined =>
    after.flatMap((round) => round[of]?.[name] ?? []).at(-1);
  const values: Record<string, readonly string[]> = {};
  const tell = (label: string, texts: readonly string[]): void => {
    if (texts.some((text) => /\d/.test(text))) values[label] = texts;
  };
  const each = (tellOf: (channel: MeasuredAnswer['channels'][number]) => string): readonly string[] =>
    channels.map((name) => {
      const own = measured?.channels.find((channel) => channel.name === name);
      return own === undefined ? '' : tellOf(own);
    });
  tell(
    'gain 1 kHz',
    each(({ gainDb }) => decimals(gainDb ?? NaN, 2)),
  );
  tell(
    'worst deviation',
    each(({ worstDeviationDb }) => db(worstDeviationDb ?? NaN)),
  );
  for (const hz of [20, 100, 10_000, 20_000]) {
    tell(
      quantity(hz, 'Hz'),
      each(({ points }) => db(points.find((point) => point.hz === hz)?.deviationDb ?? NaN)),
    );
  }
  const balance = measured?.balanceDb ?? null;
  tell(
    'balance',
    balance === null ? [] : channels.map((_, c) => (c < channels.length - 1 ? '' : decimals(balance, 2))),
  );
  const hiss = (name: string): number =>
    measured?.channels.find((channel) => channel.name === name)?.hissUv ?? 1e6 * (read(name, 'hiss') ?? NaN);
  tell(
    'hiss, A-weighted',
    channels.map((name) => decimals(hiss(name), 2)),
  );
  tell(
    'hum re 5 mV',
    channels.map((name) => decimals(read(name, 'hum') ?? NaN, 1)),
  );
  return Object.keys(values).length === 0 ? null : values;
}

/** Where and how it was measured, and whether healthy boards do the same, in sentences. */
export function measuredWords({ states: { measured } }: CheckAnswer): readonly string[] {
  if (measured === null) return [];
  const { state, at, boards, channels, ofChain, problems } = measured;
  const place = at === 'board' ? 'the board' : at;
  return [
    `Measured as ${state}, at ${place}.`,
    ...channels.map(({ name, gain, points }) => {
      const judged = points.filter(({ agreement }) => agreement !== 'not measured');
      const outside = judged.filter(({ agreement }) => agreement === 'outside').map(({ hz }) => quantity(hz, 'Hz'));
      const inside = `${judged.length - outside.length} of ${judged.length} points lie where ${boards} healthy boards do`;
      const level = gain.agreement === 'not measured' ? '' : `, the gain ${gain.agreement} of it`;
      return `${name}: ${inside}${level}${outside.length === 0 ? '' : `; outside: ${outside.join(', ')}`}.`;
    }),
    ...(ofChain ? [`This is the deviation of the whole chain up to ${place}, not of the board alone.`] : []),
    ...problems.map((problem) => `${problem}.`),
  ];
}
