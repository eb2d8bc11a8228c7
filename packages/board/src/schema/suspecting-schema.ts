import { plainNumber, quantity, strict, type Field } from './fields.ts';

/** Kinds of fault that a part may be suspected of. */
export const faultKinds = [
  'open',
  'short',
  'dried',
  'leaky',
  'drifted',
  'wrong_value',
  'contact',
  'junction_open',
  'junction_short',
  'open_joint',
  'low_hFE',
  'high_hFE',
  'leaky_transistor',
  'noisy',
  'weak',
  'stuck',
  'wrong_insertion',
  'exchanged',
  'wiper_open',
  'cracked_track',
  'supply',
] as const;
export type FaultKind = (typeof faultKinds)[number];

/** What a bench can do to tell suspects apart. */
export const benchActions = ['volts', 'response', 'bridge', 'lift', 'swap', 'short_input', 'freeze'] as const;
export type BenchAction = (typeof benchActions)[number];

/** How suspects are weighed before anything is read, and what looking further costs; what is silent stays as usual. */
export interface Suspecting {
  /** How often each kind of fault is met, over the others. */
  readonly priors?: Partial<Readonly<Record<FaultKind, number>>>;
  /** Minutes of work. */
  readonly minutes?: Partial<Readonly<Record<BenchAction, number>>>;
  /** How likely a word is heard though nothing computed speaks for it: a fraction. */
  readonly misheard?: number;
}

export const suspecting: Field<Suspecting> = strict({
  priors: strict(
    Object.fromEntries(
      faultKinds.map((kind) => [
        kind,
        plainNumber({
          description: `How often ${kind} is met, over the other kinds`,
          examples: ['3'],
          notNegative: true,
        }).exactOptional(),
      ]),
    ),
  )
    .meta({ description: 'How often each kind of fault is met, over the others' })
    .exactOptional(),
  minutes: strict(
    Object.fromEntries(
      benchActions.map((action) => [
        action,
        plainNumber({ description: `Minutes for one ${action}`, examples: ['2'], positive: true }).exactOptional(),
      ]),
    ),
  )
    .meta({ description: 'Minutes of work for each way to look further' })
    .exactOptional(),
  misheard: quantity('%', {
    description: 'How likely a word is heard though nothing computed speaks for it',
    examples: ['10 %'],
    positive: true,
  }).exactOptional(),
}).meta({ description: 'How suspects are weighed, and what looking further costs' });
