export { logFrequencies } from './frequencies.ts';
export { playbackTransfer, riaaTimes, type Target, targetDb } from './playback.ts';
