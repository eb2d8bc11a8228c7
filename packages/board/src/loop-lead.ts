import type { Board } from './board.ts';
import type { Part } from './circuit.ts';
import type { Outcome } from './diagnostics.ts';
import { designatorsOf } from './expand-part.ts';
import { suggestion } from './nearest.ts';
import type { PlaceOf } from './read-yaml.ts';
import type { BoardFile } from './schema/board-schema.ts';

/** The lead that `loop` names and those of its twins in the other channels; parts that could not be read are not in `parts`. */
export function loopsOf(written: BoardFile, parts: readonly Part[], placeOf: PlaceOf): Outcome<Board['loops']> {
  const name = written.loop?.lead;
  if (name === undefined) return { ok: true, value: [] };
  const [ref = '', lead = ''] = name.split('.');
  const twins =
    Object.keys(written.parts)
      .map(designatorsOf)
      .find((refs) => refs.includes(ref)) ?? [];
  const typed = parts.filter((part) => part.kind === 'typed');
  const found = typed.filter((part) => twins.includes(part.ref) && part.leads[lead] !== undefined);
  if (found.length > 0)
    return { ok: true, value: found.map((part) => ({ channel: part.channel, ref: part.ref, lead })) };
  const leads = typed.flatMap((part) => Object.keys(part.leads).map((each) => `${part.ref}.${each}`));
  const message = `loop: ${name} is no lead of a transistor, valve or op-amp of this board; ${suggestion(name, leads)}`;
  return { ok: false, diagnostics: [{ code: 'unknown-node', place: placeOf(['loop', 'lead'], 'value'), message }] };
}
