import { leadsOf, type Capacitor, type Circuit, type Fault, type Part } from '@curvewright/board';
import { mainValue } from '../part-value.ts';
import { ends } from './ends.ts';
import { aged, fitted, grids, made, sure, type Maker } from './fault-makers.ts';
import type { Hypothesis } from './hypothesis.ts';
import type { Priors } from './priors.ts';
import { typedFaults } from './typed-faults.ts';

/** Everything that can be wrong with one part, its joints and contacts. */
export function partFaults(circuit: Circuit, part: Part, priors: Priors): readonly Hypothesis[] {
  const maker = { circuit, part, priors };
  switch (part.kind) {
    case 'resistor':
    case 'inductor':
      return [...ends(maker), ...drift(maker), ...wrongValue(maker)];
    case 'trimmer':
      return [
        ...ends(maker),
        ...drift(maker),
        ...(part.wiper === undefined ? [] : [sure(maker, 'wiper_open', 'wiper open', '', { kind: 'wiper_open' })]),
      ];
    case 'switch':
      return [
        sure(maker, 'open', 'open contact', '', { kind: 'open' }),
        fitted(maker, 'contact', 'resistance in the contact', 'pole', 'Ω', grids.contact, (ohms) => ({
          kind: 'contact',
          lead: 'pole',
          ohms,
        })),
      ];
    case 'capacitor':
      return capacitorFaults(maker, part);
    case 'typed':
      return typedFaults(maker, part);
  }
}

function drift(maker: Maker): readonly Hypothesis[] {
  const value = mainValue(maker.part);
  if (value === null || value === 0) return [];
  const drift = (direction: string, factors: readonly number[], share: number): Hypothesis => {
    const values = factors.map((factor) => factor * value);
    const all = fitted(maker, 'drifted', 'value drifted', direction, unitOf(maker.part), values, drifted);
    return { ...all, weight: share * all.weight };
  };
  // Resistors go high far more often than low.
  const up = maker.part.kind === 'capacitor' ? 0.4 : 0.8;
  return [drift('up', grids.driftUp, up), drift('down', grids.driftDown, 1 - up)];
}

function drifted(value: number): Fault {
  return { kind: 'drifted', value };
}

function unitOf(part: Part): Hypothesis['unit'] {
  if (part.kind === 'capacitor') return 'F';
  return part.kind === 'inductor' ? 'H' : 'Ω';
}

/** Whole decades off: a band or a digit misread. */
function wrongValue(maker: Maker): readonly Hypothesis[] {
  const value = mainValue(maker.part);
  if (value === null || value === 0) return [];
  const runs = grids.decades.map((factor) => aged(maker.part.ref, [factor * value], drifted));
  return [made(maker, 'wrong_value', 'a decade off', '', unitOf(maker.part), runs)];
}

const wet: readonly (string | undefined)[] = ['aluminium', 'aluminium_bipolar', 'tantalum'];

function capacitorFaults(maker: Maker, part: Capacitor): readonly Hypothesis[] {
  const leakages = grids.leakage.filter((ohms) => ohms < (part.leakage ?? Infinity) / 3);
  const [lead = ''] = Object.keys(leadsOf(part));
  const leaky = part.polarised ? 'leaky, or in the wrong way round' : 'leaky';
  return [
    ...ends(maker),
    ...(wet.includes(part.build) ? [dried(maker, part)] : drift(maker)),
    ...wrongValue(maker),
    fitted(maker, 'leaky', leaky, '', 'Ω', leakages, (ohms) => ({ kind: 'leaky', ohms })),
    fitted(maker, 'contact', 'resistance in series: ESR, or a joint', '', 'Ω', grids.contact, (ohms) => ({
      kind: 'contact',
      lead,
      ohms,
    })),
  ];
}

/** What is left of the capacitance, and the ESR that came with it. */
function dried(maker: Maker, part: Capacitor): Hypothesis {
  const { ref, farads, esr = 0 } = part;
  const values = grids.left.map((left) => left * farads);
  const runs = grids.driedOhms.map((ohms) =>
    aged(ref, values, (value) => ({ kind: 'dried', value, esr: Math.max(esr, ohms) })),
  );
  return made(maker, 'dried', 'dried out', '', 'F', runs);
}
