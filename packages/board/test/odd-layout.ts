import { parse } from 'yaml';

/** What a file may say: texts, lists and mappings. */
export type Data = string | readonly Data[] | { readonly [key: string]: Data };

/**
 * A mapping as a YAML text in an odd layout: block and flow, quotes, indentation, blank lines and comments all by the
 * `seed`. Every comment is another one, so that a lost one shows.
 */
export function oddLayout(data: Readonly<Record<string, Data>>, seed: number): string {
  const layout = new Layout(seed);
  const lines = layout.block(data, 0);
  const ending = layout.chance(0.3) ? '\r\n' : '\n';
  return (lines.join('\n') + (layout.chance(0.8) ? '\n' : '')).replaceAll('\n', ending);
}

export function commentsIn(text: string): readonly string[] {
  return text.match(/# note \d+/g) ?? [];
}

class Layout {
  private state: number;
  private comments = 0;

  constructor(seed: number) {
    this.state = seed;
  }

  /** Lines of a block mapping. */
  block(map: Readonly<Record<string, Data>>, indent: number): string[] {
    return Object.entries(map).flatMap(([key, value]) => [
      ...this.between(indent),
      ...this.pair(`${' '.repeat(indent)}${key}:`, value, indent),
    ]);
  }

  chance(share: number): boolean {
    return this.next() < share;
  }

  private pair(head: string, value: Data, indent: number): string[] {
    const inner = indent + 1 + this.below(4);
    if (isMap(value) && Object.keys(value).length > 0 && this.chance(0.5)) {
      return [head + this.note(0.2), ...this.block(value, inner)];
    }
    if (isList(value) && value.length > 0 && this.chance(0.3)) {
      const items = value.map((item) => `${' '.repeat(inner)}- ${this.flow(item, inner + 2)}${this.note(0.2)}`);
      return [head + this.note(0.2), ...items];
    }
    if (isMap(value) && this.chance(0.1))
      return [head, `${' '.repeat(inner)}${this.flow(value, inner)}${this.note(0.2)}`];
    const text = typeof value === 'string' ? this.scalar(value, false) : this.flow(value, inner);
    return `${head}${' '.repeat(1 + this.below(3))}${text}${this.note(0.2)}`.split('\n');
  }

  private flow(value: Data, indent: number): string {
    if (typeof value === 'string') return this.scalar(value, true);
    const [open, close] = isList(value) ? ['[', ']'] : ['{', '}'];
    const entries = isList(value)
      ? value.map((item) => this.flow(item, indent))
      : Object.entries(value).map(([key, inner]) => `${key}: ${this.flow(inner, indent + 2)}`);
    const trailing = entries.length > 0 && this.chance(0.2) ? ',' : '';
    if (entries.length > 0 && this.chance(0.15)) {
      const start = `\n${' '.repeat(indent)}`;
      const lines = entries.map((entry, index) => {
        const comma = index < entries.length - 1 ? ',' : trailing;
        return `${start}${entry}${comma}${this.note(0.4)}`;
      });
      return `${open}${this.note(0.2)}${lines.join('')}${start}${close}`;
    }
    const pad = entries.length > 0 && this.chance(0.7) ? ' ' : '';
    return `${open}${pad}${entries.join(this.chance(0.8) ? ', ' : ' , ')}${trailing}${pad}${close}`;
  }

  private scalar(text: string, inFlow: boolean): string {
    if (this.chance(0.7) && isPlain(text, inFlow)) return text;
    return this.chance(0.5) && !text.includes('\n') ? `'${text.replaceAll("'", "''")}'` : JSON.stringify(text);
  }

  private between(indent: number): string[] {
    const lines = this.chance(0.1) ? [''] : [];
    return this.chance(0.15) ? [...lines, ' '.repeat(this.below(indent + 4)) + this.note(1).trim()] : lines;
  }

  private note(share: number): string {
    return this.chance(share) ? `${' '.repeat(1 + this.below(3))}# note ${this.comments++}` : '';
  }

  private below(limit: number): number {
    return Math.floor(this.next() * limit);
  }

  /** Uniform in [0, 1): a linear congruential generator, constants of Numerical Recipes (from memory). */
  private next(): number {
    this.state = (Math.imul(this.state, 1664525) + 1013904223) >>> 0;
    return this.state / 2 ** 32;
  }
}

function isPlain(text: string, inFlow: boolean): boolean {
  try {
    const read: unknown = parse(inFlow ? `{ k: ${text} }` : `k: ${text}`, { schema: 'failsafe' });
    return !/^(~|null|)$/.test(text) && JSON.stringify(read) === JSON.stringify({ k: text });
  } catch {
    return false;
  }
}

function isMap(value: Data): value is Readonly<Record<string, Data>> {
  return typeof value === 'object' && !Array.isArray(value);
}

function isList(value: Data): value is readonly Data[] {
  return Array.isArray(value);
}
