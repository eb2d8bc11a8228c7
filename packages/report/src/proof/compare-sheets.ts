/** Names of what two sheets are compared by beside their figures. */
export const versionName: string = 'version';
export const codeName: string = 'check code';

/** What a sheet says of itself, read off its HTML. */
export interface WrittenSheet {
  readonly inputs: readonly { readonly role: string; readonly name: string; readonly sha256: string }[];
  /** Printed texts by name. */
  readonly figures: ReadonlyMap<string, string>;
}

/** How a sheet differs from the one that the same files give now. */
export interface SheetDifferences {
  /** Byte for byte. */
  readonly same: boolean;
  readonly inputs: readonly { readonly name: string; readonly what: 'changed' | 'not named' | 'no longer used' }[];
  readonly figures: readonly {
    readonly name: string;
    readonly written: string | null;
    readonly computed: string | null;
  }[];
  /** First line of the file that differs where neither an input nor a figure does. */
  readonly line: number | null;
}

const inputRow = /<tr data-input="([^"]*)" data-file="([^"]*)" data-sha256="([0-9a-f]{64})">/g;
const figureText = /<(\w+)[^<>]* data-figure="([^"]*)"[^<>]*>((?:(?!<\/\1>)[^])*)<\/\1>/g;

/** Of a document that this program wrote; of any other, nothing is found. */
export function readWrittenSheet(html: string): WrittenSheet {
  const inputs = [...html.matchAll(inputRow)].map(([, role = '', name = '', sha256 = '']) => ({
    role: plain(role),
    name: plain(name),
    sha256,
  }));
  const figures = [...html.matchAll(figureText)].map(
    ([, , name = '', text = '']) => [plain(name), plain(text.replace(/<[^>]*>/g, ''))] as const,
  );
  return { inputs, figures: new Map(figures) };
}

/** `computed`: what the files that the sheet names give now. */
export function compareSheets(written: string, computed: string): SheetDifferences {
  const [before, now] = [readWrittenSheet(written), readWrittenSheet(computed)];
  const names = new Set([...before.figures.keys(), ...now.figures.keys()]);
  const figures = [...names].flatMap((name) => {
    const [old, fresh] = [before.figures.get(name) ?? null, now.figures.get(name) ?? null];
    return old === fresh ? [] : [{ name, written: old, computed: fresh }];
  });
  const inputs = inputDifferences(before.inputs, now.inputs);
  const [lines, fresh] = [written.split('\n'), computed.split('\n')];
  const line = lines.findIndex((each, n) => each !== fresh[n]);
  const isSilent = written !== computed && inputs.length === 0 && figures.length === 0;
  return {
    same: written === computed,
    inputs,
    figures,
    line: isSilent ? (line < 0 ? lines.length : line) + 1 : null,
  };
}

type InputDifference = SheetDifferences['inputs'][number];

function inputDifferences(before: WrittenSheet['inputs'], now: WrittenSheet['inputs']): readonly InputDifference[] {
  const known = new Map(before.map(({ name, sha256 }) => [name, sha256]));
  const used = new Set(now.map(({ name }) => name));
  return [
    ...now.flatMap(({ name, sha256 }): readonly InputDifference[] => {
      const old = known.get(name);
      if (old === sha256) return [];
      return [{ name, what: old === undefined ? 'not named' : 'changed' }];
    }),
    ...before
      .filter(({ name }) => !used.has(name))
      .map(({ name }): InputDifference => ({ name, what: 'no longer used' })),
  ];
}

const entities: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

function plain(text: string): string {
  return text.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => entities[name] ?? '');
}
