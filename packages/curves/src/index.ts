export { bandQuadrature } from './band-quadrature.ts';
export { logFrequencies } from './frequencies.ts';
export { nominalFrequencies } from './nominal-frequencies.ts';
export { playbackTransfer, riaaTimes, type Target, targetDb } from './playback.ts';
export { aWeightingDb, aWeightingPower } from './weighting.ts';
