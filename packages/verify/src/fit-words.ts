import type { Capacitor, Part } from '@curvewright/board';
import { nodeVolts } from '@curvewright/network';
import { printQuantity } from '@curvewright/quantity';
import type { Probe } from './figure.ts';
import { soldVolts } from './fit/sold-volts.ts';
import type { FurtherReader } from './further-answers.ts';
import { bareName } from './node-volts.ts';
import { printValue } from './part-value.ts';
import type { Remedy } from './remedy.ts';

/** How much of its rating a capacitor may see; common practice, no source. */
const ofRating = 0.8;

/** `33 µF, 6.3 V or more, plus to leg, at C103 and C104`. */
export function fitWords({ part, value, twins, probe }: Remedy, further: FurtherReader): string {
  const capacitor = part.kind === 'capacitor' ? capacitorWords(part, twins, probe, further) : [];
  const what = [printValue(part, value), ...capacitor].join(', ');
  return `${what}${capacitor.length > 0 ? ',' : ''} at ${placesOf({ part, twins })}`;
}

/** `C103 and C104` */
export function placesOf({ part, twins }: Pick<Remedy, 'part' | 'twins'>): string {
  return [part, ...twins].map(({ ref }) => ref).join(' and ');
}

function capacitorWords(
  part: Capacitor,
  twins: readonly Part[],
  probe: Probe,
  further: FurtherReader,
): readonly string[] {
  return [...ratingWords([part, ...twins], probe, further), ...plusWords(part, probe)];
}

/** By the most that they see from switch-on to rest; silent where that is not known. */
function ratingWords(parts: readonly Part[], probe: Probe, further: FurtherReader): readonly string[] {
  const refs = parts.map(({ ref }) => ref);
  const swings = (further.settle(probe)?.parts ?? []).filter(({ ref }) => refs.includes(ref));
  const highest = Math.max(...swings.flatMap(({ highestV, lowestV }) => [highestV, -lowestV]));
  const rating = soldVolts.find((volts) => ofRating * volts >= highest);
  return swings.length === 0 || rating === undefined ? [] : [`${printQuantity(rating, 'V')} or more`];
}

const unpolarised: readonly (string | undefined)[] = [
  'film',
  'polystyrene',
  'mica',
  'ceramic1',
  'ceramic2',
  'aluminium_bipolar',
];

/** V below which either side may be plus, and the drawing decides: what a bench meter shows of nothing. */
const leastAcross = 10e-3;

/** The side that stands higher at the bias, of a polarised part. */
function plusWords(part: Capacitor, { stage: { network, point } }: Probe): readonly string[] {
  if (!part.polarised || unpolarised.includes(part.build)) return [];
  const across = nodeVolts(network, point, part.plus) - nodeVolts(network, point, part.minus);
  const reversed = across < -leastAcross;
  return [`plus to ${bareName(reversed ? part.minus : part.plus)}`];
}
