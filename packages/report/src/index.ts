export { checkPage } from './check-page.ts';
export { curveCsv } from './curve-csv.ts';
export { curvePage, type TitledCurve } from './curve-page.ts';
export { diagnosticLines } from './diagnostic-lines.ts';
export type { PageOptions } from './page-options.ts';
export { voltsPage, type VoltsPageOptions } from './volts-page.ts';
