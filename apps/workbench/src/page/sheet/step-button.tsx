import type { JSX } from 'preact';

interface StepProps {
  /** The value it leads to; null: there is none. */
  to: string | null;
  name: (value: string) => string;
  sign: string;
  step: (value: string) => Promise<void>;
}

/** Leads to a neighbouring preferred value, which stands on it. */
export function StepButton({ to, name, sign, step }: StepProps): JSX.Element | null {
  if (to === null) return null;
  return (
    <button type="button" class="step" aria-label={name(to)} onClick={() => void step(to)}>
      <span aria-hidden="true">{sign}</span> {to}
    </button>
  );
}
