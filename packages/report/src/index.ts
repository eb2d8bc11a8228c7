export { checkPage } from './check-page.ts';
export { diagnosticLines } from './diagnostic-lines.ts';
export type { PageOptions } from './page-options.ts';
