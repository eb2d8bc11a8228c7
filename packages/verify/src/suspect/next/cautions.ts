import type { BenchAction, Circuit } from '@curvewright/board';

/** Minutes of work with the board open on the bench: common practice, no source. A job's `suspecting: minutes` replace them. */
export const usualMinutes: Readonly<Record<BenchAction, number>> = {
  volts: 1,
  response: 2,
  bridge: 3,
  lift: 8,
  swap: 15,
  short_input: 1,
  freeze: 3,
};

/** What to mind before each of them; valve stages carry voltages that kill. */
export function cautionOf(action: BenchAction, { parts }: Circuit): string {
  const valves = parts.some((part) => part.kind === 'typed' && part.type.kind === 'triode');
  const live = valves ? 'valve stage: one hand, insulated probe' : 'probe with care: one slip joins two nodes';
  const off = 'power off, discharge the supply capacitors and prove it with the meter first';
  switch (action) {
    case 'volts':
      return live;
    case 'response':
      return `volume down before the generator is joined${valves ? '; valve stage: keep off the board while it is on' : ''}`;
    case 'bridge':
      return `${off}, then solder the good one across, rated and poled alike; volume down before power comes back`;
    case 'lift':
    case 'swap':
      return `${off}; volume down before power comes back`;
    case 'short_input':
      return 'volume down before the plug is pulled or shorted';
    case 'freeze':
      return valves
        ? 'never freeze a hot valve: its glass breaks; warm or cool small parts alone'
        : 'volume down; a short burst on the one part, and let the moisture dry before it is believed';
  }
}
