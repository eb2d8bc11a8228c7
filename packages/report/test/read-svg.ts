/** One element of a picture, as far as the tests look at it. */
export interface SvgElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Text directly inside, entities resolved. */
  text: string;
}

const tag = /<(\/?)([a-z]+)((?: [\w:-]+="[^"<]*")*)(\/?)>/gy;

/** Every element in order. Throws where the text is not well-formed, or holds what a figure has no need of: comments, CDATA, instructions. */
export function readSvg(svg: string): readonly SvgElement[] {
  const found: SvgElement[] = [];
  const open: SvgElement[] = [];
  let at = 0;
  while (at < svg.length) {
    const next = svg.indexOf('<', at);
    const text = svg.slice(at, next < 0 ? svg.length : next);
    if (/&(?!(?:amp|lt|gt|quot|#39);)/.test(text)) throw new Error(`a bare & in ${text}`);
    const inside = open.at(-1);
    if (inside !== undefined) inside.text += resolved(text);
    else if (text !== '') throw new Error(`text outside the picture: ${text}`);
    if (next < 0) break;
    tag.lastIndex = next;
    const match = tag.exec(svg);
    if (match === null) throw new Error(`no element at ${svg.slice(next, next + 60)}`);
    const [whole, closes, name = '', attributes = '', isEmpty] = match;
    if (closes === '/') {
      if (open.pop()?.name !== name) throw new Error(`</${name}> closes nothing`);
    } else {
      const element = { name, attributes: attributesOf(attributes), text: '' };
      found.push(element);
      if (isEmpty === '') open.push(element);
    }
    at = next + whole.length;
  }
  if (open.length > 0) throw new Error(`${open.length} elements are not closed`);
  return found;
}

function attributesOf(written: string): Record<string, string> {
  return Object.fromEntries(
    [...written.matchAll(/ ([\w:-]+)="([^"]*)"/g)].map(([, name = '', value = '']) => [name, resolved(value)]),
  );
}

const entities: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

function resolved(text: string): string {
  return text.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => entities[name] ?? '');
}

/** The one text element that says this. */
export function wordAt(elements: readonly SvgElement[], text: string): { readonly x: number; readonly y: number } {
  const found = elements.filter((element) => element.name === 'text' && element.text === text);
  if (found.length !== 1) throw new Error(`${found.length} words ${text}`);
  return { x: Number(found[0]!.attributes.x), y: Number(found[0]!.attributes.y) };
}

/** Points of a path of M and L. */
export function pointsOf(path: string): readonly (readonly [number, number])[] {
  return [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
}
