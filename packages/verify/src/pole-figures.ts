import type { Limits } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';
import { designatorsIn } from './designator.ts';
import type { Probe } from './figure.ts';
import type { FurtherReader } from './further-answers.ts';
import { neighboursOf } from './neighbours.ts';
import type { PolesAnswer } from './poles.ts';
import { toldFigure, type Kind, type ToldFigure } from './told-figure.ts';

const pairKind: Kind = { what: 'stability', unit: 'Q', side: 'at most', dear: true, triesSwaps: true };
const marginKind: Kind = { what: 'stability', unit: '°', side: 'at least', dear: true, triesSwaps: true };

/** Parts of a pair of poles that are told, and asked for another value. */
const told = 3;

/** The worst pair of poles, and each stated loop's margin: a circuit that swings by itself fails, all else is at worst a look. */
export function poleFigures(probe: Probe, further: FurtherReader, { stability: limit }: Limits): readonly ToldFigure[] {
  const poles = further.poles(probe);
  if (poles === null) return [];
  const figures = [pairFigure(probe, further, poles, limit.q)];
  if (!poles.stable) return figures;
  return [...figures, ...marginFigures(probe, further, poles, limit.margin)];
}

function pairFigure(probe: Probe, further: FurtherReader, poles: PolesAnswer, good: number): ToldFigure {
  const { worst, stable } = poles;
  // Without a pair, what makes the fastest real pole is nearest to making one.
  const refs = (worst ?? poles.poles[0])?.parts.map(({ ref }) => ref) ?? [];
  const leading = designatorsIn(probe.stage, refs).slice(0, told).join(', ');
  const read = (other: Probe): number => {
    const answer = further.poles(other);
    if (answer === null) return NaN;
    return answer.stable ? (answer.worst?.q ?? 0) : Infinity;
  };
  return toldFigure(pairKind, null, { good, look: Number.MAX_VALUE }, probe, read, {
    hz: worst?.hz ?? null,
    where: worst ? `at ${printQuantity(worst.hz, 'Hz')}` : 'no pair of poles',
    named: refs,
    asked: [...refs.slice(0, told), ...neighboursOf(probe.stage.circuit, refs.slice(0, told), 'capacitor')],
    cause: !stable
      ? `the circuit swings by itself, at ${leading}`
      : worst
        ? `the worst pair is moved most by ${leading}`
        : 'every pole is real',
    otherwise: `look at ${leading} and the compensation capacitor`,
  });
}

function marginFigures(
  probe: Probe,
  further: FurtherReader,
  { loops, radio }: PolesAnswer,
  good: number,
): readonly ToldFigure[] {
  const fast = radio?.parts.map(({ ref }) => ref) ?? [];
  return loops.flatMap(({ channel, lead, marginDeg }): readonly ToldFigure[] => {
    if (marginDeg === null) return [];
    const ref = lead.split('.')[0] ?? lead;
    const index = probe.stage.circuit.channels.findIndex(({ name }) => name === channel);
    const read = (other: Probe): number => {
      const loop = further.poles(other)?.loops.find((each) => each.lead === lead && each.channel === channel);
      return loop === undefined ? NaN : (loop.marginDeg ?? Infinity);
    };
    return [
      toldFigure(marginKind, index < 0 ? null : index, { good, look: -Number.MAX_VALUE }, probe, read, {
        where: `margin of the loop at ${lead}`,
        named: [ref],
        asked: [
          ...fast.slice(0, told),
          ...neighboursOf(probe.stage.circuit, [ref, ...fast.slice(0, told)], 'capacitor'),
        ],
        cause: `phase margin where the loop's gain is 1, broken at ${lead}`,
        otherwise: 'look at the compensation capacitor and the load capacitance',
      }),
    ];
  });
}
