import type { Place } from './diagnostics.ts';
import type { Path, PlaceOf } from './read-yaml.ts';
import type { SwapEntry } from './schema/swap-schema.ts';

/** A part as a job writes it for a position of the board, and where it does. */
export interface SwapPart<E extends SwapEntry = SwapEntry> {
  readonly entry: E;
  readonly place: Place;
  /** The place of one of its keys, or of the value there. */
  readonly placeAt: (key: string, of: 'key' | 'value') => Place;
}

/** The entry that stands at `path` of the file. */
export function swapPartAt<E extends SwapEntry>(entry: E, path: Path, placeOf: PlaceOf): SwapPart<E> {
  return { entry, place: placeOf(path, 'value'), placeAt: (key, of) => placeOf([...path, key], of) };
}
