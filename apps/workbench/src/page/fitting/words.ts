import type { Level } from '@curvewright/verify';

/** Every string beside a row's leads and its drawer; causes, reasons and parts come with what is computed. */
export const words = {
  leads: 'How it goes in',
  leadsOf: (refs: string): string => `${refs}, seen from the component side`,
  next: 'Next',
  cannot: 'Cannot be computed:',
  computing: 'computing …',
  drawer: 'From the drawer',
  look: 'Look in the drawer',
  putBack: 'Close the drawer',
  noDrawer: 'No drawer.csv lies beside the job or in a folder above it.',
  ranking: (share: number): string => `simulating … ${Math.floor(100 * share)} %`,
  hint: 'Arrow keys try one part after the other: Fig. 1 shows its curve. Nothing is written before it is fitted.',
  asItIs: (planned: string): string => `as the job has it: ${planned}`,
  candidates: (refs: string): string => `Parts of the drawer for ${refs}`,
  counts: (of: Readonly<Record<Level, number>>): string =>
    (['good', 'look', 'not measured', 'fail'] as const)
      .filter((level) => of[level] > 0)
      .map((level) => `${of[level]} ${level}`)
      .join(', '),
  nothing: 'Nothing of its kind lies in the drawer.',
  leftOut: (n: number): string => `${n} ${n === 1 ? 'row' : 'rows'} of the drawer cannot be read and were left out:`,
  pieces: (takes: number, has: number | null): string => (has === null ? `takes ${takes}` : `takes ${takes} of ${has}`),
  moves: (curve: string, hz: string, node: string, bias: string): string =>
    `curve ${curve} dB at ${hz}, bias ${node} ${bias}`,
  byFitAlone: 'not simulated: it does not fit',
  more: (n: number): string => `Show ${n} more`,
  toOrder: 'To order:',
  fit: (stock: string): string => `Fit ${stock}`,
  fitted: (refs: string, stock: string): string => `${refs} ${stock} fitted`,
  trying: (stock: string): string => `The moving line of Fig. 1 is that of ${stock}.`,
  changed: 'The job has changed meanwhile; choose again.',
};
