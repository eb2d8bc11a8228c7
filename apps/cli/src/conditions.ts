import type { Board, Circuit, Diagnostic, Job } from '@curvewright/board';
import { printQuantity } from '@curvewright/quantity';

/** What a command changes of its file before anything is computed. */
export interface Conditions {
  /** K, of every part. */
  readonly ambient?: number | undefined;
  /** V of rails by name. */
  readonly rail?: ReadonlyMap<string, number> | undefined;
}

/** Every rail that is asked for and that the board does not have. */
export function unknownRails(board: Board, { rail }: Conditions): readonly Diagnostic[] {
  const rails = board.circuit.rails.map(({ node }) => node);
  const offer = rails.length === 0 ? 'the board has none; write it under rails:' : `write one of ${rails.join(', ')}`;
  return [...(rail?.keys() ?? [])]
    .filter((name) => !rails.includes(name))
    .map((name) => ({
      code: 'unknown-rail',
      place: { file: board.file, line: 1, column: 1 },
      message: `no rail ${name} on this board; ${offer}`,
    }));
}

/** The board under these conditions, which its title then tells. */
export function boardUnder(board: Board, conditions: Conditions): Board {
  const circuit = { ...railsUnder(board.circuit, conditions), ambient: conditions.ambient ?? board.circuit.ambient };
  return { ...board, circuit, title: titleUnder(board.title, conditions) };
}

/** The job under these conditions, which its title then tells; its board has the rails already. */
export function jobUnder(job: Job, conditions: Conditions): Job {
  const entry = { ...job.entry, title: titleUnder(job.entry.title, conditions) };
  return { ...job, entry, ambient: conditions.ambient ?? job.ambient };
}

function railsUnder(circuit: Circuit, { rail }: Conditions): Circuit {
  return { ...circuit, rails: circuit.rails.map((each) => ({ ...each, volts: rail?.get(each.node) ?? each.volts })) };
}

function titleUnder(title: string, { ambient, rail }: Conditions): string {
  const changed = [
    ...(ambient === undefined ? [] : [`at ${printQuantity(ambient - 273.15, '°C')}`]),
    ...[...(rail ?? [])].map(([name, volts]) => `${name} at ${printQuantity(volts, 'V')}`),
  ];
  return [title, ...changed].join(', ');
}
