import type { Plugin } from 'vite';

/**
 * Leaves out what makes JSON Schemas of the file formats, a twelfth of all that the page loads first: the page's editor reads the
 * written-out ones. Whoever asks for one all the same is told.
 */
export function withoutJsonSchema(): Plugin {
  return {
    name: 'without-json-schema',
    transform(code, id) {
      if (!/[\\/]zod[\\/]v4[\\/]core[\\/](to-json-schema|json-schema-processors)\.js$/.test(id)) return null;
      const names = [...code.matchAll(/^export (?:const|function) (\w+)/gm)].map(([, name = '']) => name);
      if (names.length === 0) throw new Error(`${id} exports nothing that can be left out`);
      const parts = names.map(
        (name) => `export function ${name}() { throw new Error('no JSON Schema is made here'); }`,
      );
      return { code: parts.join('\n'), map: null };
    },
  };
}
