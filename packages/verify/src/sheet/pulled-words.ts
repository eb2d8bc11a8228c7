import type { JobPosition } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';

type Pulled = NonNullable<NonNullable<JobPosition['entry']>['pulled']>;

/** What was read on a pulled part and what was wrong with it, as far as the job says: `0.74 µF, ESR 6 Ω, leakage 6 MΩ, leaky`. */
export function pulledWords(pulled: Pulled): string {
  const { type, build, value, esr, leakage, loss, hFE, VBE, ICBO, IDSS, VGS_off, contact, faults = [], lead } = pulled;
  const figure = (name: string, text: string | undefined): readonly string[] =>
    text === undefined ? [] : [`${name}${text}`];
  const words = [
    ...figure('', type),
    ...figure('', value),
    ...figure('', build?.replaceAll('_', ' ')),
    ...figure('ESR ', esr && printQuantity(esr.value, 'Ω')),
    ...figure(
      'leakage ',
      leakage && ('ohms' in leakage ? printQuantity(leakage.ohms, 'Ω') : printQuantity(leakage.amps, 'A')),
    ),
    ...figure('tan δ ', loss?.toPrecision(2)),
    ...figure('hFE ', hFE?.points[0]?.value.toPrecision(3)),
    ...figure('VBE ', VBE && printQuantity(VBE.value, 'V')),
    ...figure('ICBO ', ICBO === undefined ? undefined : printQuantity(ICBO, 'A')),
    ...figure('IDSS ', IDSS === undefined ? undefined : printQuantity(IDSS, 'A')),
    ...figure('VGS(off) ', VGS_off === undefined ? undefined : printQuantity(VGS_off, 'V')),
    ...figure('contact ', contact === undefined ? undefined : printQuantity(contact, 'Ω')),
    ...faults.map((fault) => fault.replaceAll('_', ' ')),
    ...figure('at ', lead),
  ];
  return words.length === 0 ? 'pulled, nothing read' : words.join(', ');
}
