import { escaped } from '../figure/svg-text.ts';

/** Text that is HTML already: nothing else goes into a document unescaped. */
export interface Html {
  readonly html: string;
}

export type Content = Html | string | readonly Content[];

type Attributes = Readonly<Record<string, string | number | undefined>>;

/** Elements that end a line, so that two documents can be compared line by line. */
const blocks =
  /^(html|head|meta|title|body|header|footer|main|section|h[1-4]|p|ul|li|dl|dt|dd|table|caption|thead|tbody|tr|figure|figcaption|div)$/;

const empty = /^(meta|input|br)$/;

/** One element; attributes without a value are left out, text is escaped. */
export function el(name: string, attributes: Attributes = {}, ...content: readonly Content[]): Html {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${escaped(String(value))}"`)
    .join('');
  const end = blocks.test(name) ? '\n' : '';
  if (empty.test(name)) return { html: `<${name}${written}>${end}` };
  return { html: `<${name}${written}>${htmlOf(content)}</${name}>${end}` };
}

/** The space between a number and its unit. */
const beforeUnit = /(?<=\d) (?=(?:[%°]|dB|[kMGmµnp]?(?:[ΩVFAHWs]|Hz))(?!\p{L}))/gu;

function htmlOf(content: Content): string {
  if (typeof content === 'string') return escaped(content).replace(beforeUnit, '\u00A0');
  return 'html' in content ? content.html : content.map(htmlOf).join('');
}

/** What the program itself wrote as HTML. */
export function raw(html: string): Html {
  return { html };
}
