import type { Schema } from './schema-walk.ts';

/** What a text may be; `other` has no form. */
export type TextKind = 'job' | 'board' | 'types' | 'shop' | 'other';

/** The published schema of a kind, fetched when it is wanted. */
export async function loadSchema(kind: TextKind): Promise<Schema | null> {
  switch (kind) {
    case 'job':
      return (await import('../../../../../shared/schemas/job.schema.json')).default;
    case 'board':
      return (await import('../../../../../shared/schemas/board.schema.json')).default;
    case 'types':
      return (await import('../../../../../shared/schemas/types.schema.json')).default;
    case 'shop':
      return (await import('../../../../../shared/schemas/shop.schema.json')).default;
    case 'other':
      return null;
  }
}
