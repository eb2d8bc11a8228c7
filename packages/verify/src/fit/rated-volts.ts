import type { Capacitor } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import type { FaultVolts } from './fault-volts.ts';
import { furthest, saidVolts, swingOf, type FitContext, type FitRow } from './fit-row.ts';
import { ratingRow } from './rating-row.ts';
import { ohmsInRailLoop } from './resistors-only.ts';
import { soldVolts } from './sold-volts.ts';

interface Need {
  readonly volts: number;
  readonly because: string;
}

/** A capacitor's rated volts, held against whatever asks the most of them. */
export function capacitorVolts(
  part: Capacitor,
  context: FitContext,
  withoutActiveParts: ReadonlyMap<string, number>,
  faults: FaultVolts,
): readonly FitRow[] {
  const { network, point } = context.stage;
  const steady = nodeVolts(network, point, part.plus) - nodeVolts(network, point, part.minus);
  const swing = swingOf(context, part.ref, 'plus-minus', steady);
  const [most] = needsOf(part, context, Math.abs(steady), furthest(swing), withoutActiveParts.get(part.ref) ?? 0).sort(
    (a, b) => b.volts - a.volts,
  );
  if (most === undefined) return [];
  return ratingRow(part, {
    where: 'volts',
    unit: 'V',
    needed: most.volts,
    rated: part.rated,
    asked: true,
    because: most.because + faultNote(part, faults),
    write: `rated: ${boughtFor(most.volts)} with what is fitted at ${part.position}`,
    next: `choose one rated ${boughtFor(most.volts)} at ${part.position}`,
  });
}

function needsOf(
  part: Capacitor,
  { stage, ratings }: FitContext,
  steady: number,
  onTheWay: number,
  withoutActiveParts: number,
): Need[] {
  const [times, words] = derating(part, ratings, steady, () => ohmsInRailLoop(stage.circuit, part));
  return [
    {
      volts: times * steady,
      because: `${times === 1 ? '' : `${times} × the `}${saidVolts(steady)} that stand across it${words}`,
    },
    {
      volts: ratings.switch_on * onTheWay,
      because: `${ratings.switch_on === 1 ? '' : `${ratings.switch_on} × the `}${saidVolts(onTheWay)} on the way up`,
    },
    {
      volts: withoutActiveParts,
      because: `${saidVolts(withoutActiveParts)} come to it through resistors alone when the active parts are out`,
    },
  ];
}

/** Times that the rating has to be the steady voltage, and why so many. */
function derating(
  { build, polarised }: Capacitor,
  ratings: FitContext['ratings'],
  steady: number,
  loopOhms: () => number,
): readonly [number, string] {
  switch (build) {
    case 'tantalum': {
      const ohms = loopOhms();
      return ohms < ratings.stiff * steady
        ? [ratings.tantalum_at_rail, `, a tantalum with only ${printQuantity(ohms, 'Ω')} to a rail`]
        : [ratings.tantalum, ', a tantalum'];
    }
    case 'aluminium':
    case 'aluminium_bipolar':
      return [ratings.aluminium, ''];
    case 'ceramic1':
    case 'ceramic2':
      return [ratings.ceramic, ''];
    case undefined:
      return [polarised ? ratings.aluminium : ratings.film, ''];
    default:
      return [ratings.film, ''];
  }
}

/** A transistor's fault may ask for more: told, not judged. */
function faultNote({ ref, rated }: Capacitor, faults: FaultVolts): string {
  const worst = faults.get(ref);
  if (worst === undefined || rated === undefined || worst.volts <= rated) return '';
  return `; should ${worst.by} short from collector to emitter, it would see ${saidVolts(worst.volts)} (a note, not judged)`;
}

function boughtFor(volts: number): string {
  return `${soldVolts.find((each) => each >= volts * (1 - 1e-9)) ?? Math.ceil(volts)} V`;
}
