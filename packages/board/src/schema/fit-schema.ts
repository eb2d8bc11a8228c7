import { choice, hasKey, isList, isMap, isText, list, oneOf, strict, type Field } from './fields.ts';
import { fitPart, type SwapEntry } from './swap-schema.ts';

/** What goes into a position: a part, parts in series, parts side by side, or nothing. */
export type FitEntry = SwapEntry | readonly SwapEntry[] | { readonly parallel: readonly SwapEntry[] } | 'none';

const parts: Field<readonly SwapEntry[]> = list(fitPart, {
  description: 'Parts with two leads',
  examples: ['[{ type: DS-A }, { type: DS-A }]'],
  least: 1,
});

/** What goes into a position. */
export const fit: Field<FitEntry> = oneOf<FitEntry>(
  [
    { fits: isText, schema: choice(['none'], { description: 'The place stays empty' }) },
    { fits: isList, schema: parts },
    { fits: hasKey('parallel'), schema: strict({ parallel: parts }).meta({ description: 'Parts side by side' }) },
    { fits: isMap, schema: fitPart },
  ],
  {
    description: 'The fitted part; a list is in series, first at the anode or plus side',
    examples: ['{ build: film, value: 1 µF }', 'none'],
  },
);
