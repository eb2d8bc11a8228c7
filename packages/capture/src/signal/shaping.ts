import { targetDb } from '@curvewright/curves';
import type { Shaping } from './signal-plan.ts';

/** Level of a shaped signal at a frequency in Hz, dB re 1 kHz: `inverse_riaa` is the playback curve upside down. */
export function shapingDb(shaping: Shaping, hz: number): number {
  return shaping === 'flat' ? 0 : -targetDb('riaa', hz);
}
