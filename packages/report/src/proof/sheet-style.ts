import { inks } from '../figure/figure-style.ts';

const { text, muted, grid, rebuilt, found } = inks;

/**
 * The style sheet of a printed document. Its head stands once on the screen and on every printed page: a table group is the one thing that
 * browsers repeat.
 */
export function sheetStyle(paper: 'A4' | 'Letter'): string {
  return `
@page { size: ${paper}; margin: 11mm 14mm 13mm; @bottom-right { content: counter(page) " of " counter(pages); font: 8pt sans-serif; color: ${muted.light}; } }
* { box-sizing: border-box; }
html { color: ${text.light}; background: #fff; font: 15px/1.42 "Source Sans 3", "Liberation Sans", Arial, Helvetica, sans-serif; font-variant-numeric: tabular-nums lining-nums; }
body { margin: 0 auto; max-width: 940px; padding: 16px; }
p, h1, h2, ul, dl, dd, figure { margin: 0; }
.running { font-size: 13px; color: ${muted.light}; }
.running div { display: flex; justify-content: space-between; gap: 24px; padding-bottom: 3px; border-bottom: 1px solid ${text.light}; }
.masthead { display: grid; grid-template-columns: 1fr auto; gap: 2px 24px; padding: 10px 0 8px; }
h1 { font-size: 24px; line-height: 1.2; font-weight: 600; }
h2 { margin: 14px 0 3px; font-size: 15px; font-weight: 600; }
.shop { text-align: right; font-size: 13px; }
.shop strong { font-size: 15px; }
.about { grid-column: 1 / -1; display: flex; flex-wrap: wrap; gap: 0 20px; }
.about div { display: flex; gap: 6px; }
dt, .muted { color: ${muted.light}; }
.verdict { padding: 5px 0; border-block: 1px solid ${grid.light}; }
.verdict strong, .level { font-weight: 600; white-space: nowrap; }
.good { color: ${rebuilt.light}; }
.look { color: ${found.light}; }
.fail { color: #B3261E; }
.beside { display: grid; grid-template-columns: minmax(0, 1fr) 24%; gap: 0 20px; }
.plain { list-style: none; padding: 0; }
.drawn { width: 27%; }
.pulled { width: 25%; }
.fitted { width: 20.5%; }
.plate { margin-top: 8px; break-inside: avoid; }
.plate svg { display: block; width: 100%; height: auto; font-family: inherit; }
figcaption, .small { font-size: 13px; color: ${muted.light}; }
table { border-collapse: collapse; width: 100%; font-size: 13px; line-height: 1.32; }
caption { text-align: left; color: ${muted.light}; padding-bottom: 2px; }
th { font-weight: 600; text-align: left; vertical-align: bottom; }
tbody th { font-weight: 400; }
td, th { padding: 1.5px 8px 1.5px 0; vertical-align: top; }
td:last-child, th:last-child { padding-right: 0; }
thead { border-bottom: 1px solid ${text.light}; }
tbody tr { border-bottom: 1px solid ${grid.light}; }
tr, li, .finding, .pair { break-inside: avoid; }
h2 { break-after: avoid; }
.number { text-align: right; white-space: nowrap; }
.first { padding-left: 14px; }
.over { padding-left: 14px; text-align: right; }
.rest { width: 40%; }
.refs { white-space: nowrap; }
.hash { vertical-align: baseline; font: 10.5px/1.3 "DejaVu Sans Mono", Menlo, Consolas, monospace; overflow-wrap: anywhere; }
.pair { display: grid; grid-template-columns: 2fr 3fr; gap: 0 28px; }
.wide { overflow-x: auto; }
ul { padding-left: 16px; }
.finding { margin-bottom: 4px; }
.initials { width: 20mm; border-left: 1px solid ${grid.light}; }
.check { list-style: "☐  "; }
@media (max-width: 640px) {
  .pair, .masthead, .beside { display: block; }
  .shop { text-align: left; }
  .wide table { min-width: 600px; }
  .pair table { min-width: 0; }
}
@media print {
  html { color: #000; font-size: 8.4pt; line-height: 1.28; }
  body { display: table; width: 100%; max-width: none; padding: 0; }
  .running { display: table-header-group; break-inside: avoid; font-size: 8pt; color: #000; }
  .running div { margin-bottom: 2mm; border-bottom-color: #000; }
  main { display: table-row-group; }
  h1 { font-size: 15pt; }
  h2 { font-size: 9.6pt; margin-top: 2.4mm; }
  table, figcaption, .small, .shop, .running { font-size: 7.4pt; }
  .whole { break-inside: avoid; }
  .shop strong { font-size: 9.6pt; }
  td, th { padding-block: 0.25mm; }
  .hash { font-size: 6pt; }
  .masthead { padding-top: 1mm; }
  .wide { overflow: visible; }
}
`;
}
