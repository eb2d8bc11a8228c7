export * from './check.ts';
export * from './curve.ts';
export * from './finding.ts';
export * from './gain-reader.ts';
export * from './judge.ts';
export * from './stage.ts';
export * from './stage-sheet.ts';
export * from './voltage-chart.ts';
