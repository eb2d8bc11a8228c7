import type { CompletionContext, CompletionResult } from '@codemirror/autocomplete';
import { hoverTooltip } from '@codemirror/view';
import type { Extension } from '@codemirror/state';
import { placeInText } from './place-in-text.ts';
import { describedAt, keysAt, valuesAt, type Schema } from './schema-walk.ts';

/** Offers the keys that may stand here, each with what it says, and the values of a key. */
export function completeBy(schema: Schema): (context: CompletionContext) => CompletionResult | null {
  return ({ state, pos, explicit }) => {
    const place = placeInText(state.doc.toString(), pos);
    if (place === null || (!explicit && place.written === '')) return null;
    const { from, path } = place;
    if (place.of === 'value')
      return {
        from,
        options: valuesAt(schema, path).map((label) => ({ label, type: 'value' })),
        validFor: /^[^,{}[\]]*$/,
      };
    const keys = [...keysAt(schema, path)];
    return {
      from,
      options: keys.map(([label, form]) => ({
        ...{ label, apply: `${label}: `, type: 'key' },
        ...(form.description === undefined ? {} : { info: form.description }),
      })),
      validFor: /^[\w/.-]*$/,
    };
  };
}

/** What the key or the value under the pointer is. */
export function helpBy(schema: Schema): Extension {
  return hoverTooltip((view, pos) => {
    const text = view.state.doc.toString();
    const word = view.state.wordAt(pos);
    if (word === null) return null;
    const place = placeInText(text, word.to);
    if (place === null) return null;
    const path = place.of === 'key' ? [...place.path, place.written] : place.path;
    const told = describedAt(schema, path);
    if (told === null) return null;
    return {
      pos: word.from,
      end: word.to,
      create: () => {
        const dom = document.createElement('div');
        dom.className = 'cm-help';
        dom.textContent = told;
        return { dom };
      },
    };
  });
}
