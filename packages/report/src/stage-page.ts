import type { State } from '@curvewright/board';
import { oneLine, wrap } from './cells.ts';
import { pageWidth, type PageOptions } from './page-options.ts';

/** A page about one stage: its board's or job's title and the state it was computed for. */
export interface StagePageOptions extends PageOptions {
  readonly title: string;
  readonly state: State;
}

/** Heading, then the sections with rules between them. */
export function stagePage(
  { title, state, ...options }: StagePageOptions,
  what: string,
  sections: (page: PageOptions) => readonly (readonly string[])[],
): string {
  const page = { ...options, width: pageWidth(options) };
  const rule = '─'.repeat(page.width);
  const heading = wrap(`${oneLine(title)}, as ${state}: ${what}`, page.width);
  return [heading, ...sections(page).filter(({ length }) => length > 0)]
    .map((lines) => lines.join('\n'))
    .join(`\n${rule}\n`);
}
