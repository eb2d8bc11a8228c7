export * from './complex-lu.ts';
export * from './real-lu.ts';
