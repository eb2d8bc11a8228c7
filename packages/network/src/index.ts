export * from './bias.ts';
export * from './compile.ts';
export { idealSource, type Source } from './elements.ts';
export * from './inspect.ts';
export * from './lead-currents.ts';
export * from './linearise.ts';
export * from './network.ts';
export * from './port.ts';
export { frequencySolver, solveResponse, type FrequencySolver, type Response } from './response.ts';
