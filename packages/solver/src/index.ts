export * from './complex-lu.ts';
export * from './fourier.ts';
export * from './gmres.ts';
export * from './real-lu.ts';
