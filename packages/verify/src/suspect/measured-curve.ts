import { targetDb } from '@curvewright/curves';
import type { MeasuredResponse, ResponsePoint } from './evidence.ts';

/** dB by which a point of a measured response strays, where its file says nothing: common practice, no source. */
const usualSigma = 0.1;

/** dB, of a level that is not known. */
const unknownLevel = 100;

/** Points of a channel that are weighed: neighbours nearer than this say the same twice. */
const mostPoints = 24;

/** dB by which a playback curve falls from 50 Hz to 10 kHz at the least, where it was not taken off before. */
const fallOfCurve = 15;

/**
 * Responses of channels as a file tells them: gain, or deviation from the playback curve, told apart by whether they fall from bass to treble; their level is not
 * known, the difference between channels of one session is.
 */
export function measuredCurve(
  channels: Readonly<Record<string, readonly { readonly hz: number; readonly db: number }[]>>,
): MeasuredResponse {
  return {
    levelDb: unknownLevel,
    channels: Object.fromEntries(
      Object.entries(channels).map(([name, points]) => {
        const taken = isGain(points) ? (): number => 0 : (hz: number): number => targetDb('riaa', hz);
        return [
          name,
          thinned(points).map(({ hz, db }): ResponsePoint => ({ hz, db: db + taken(hz), sigmaDb: usualSigma })),
        ];
      }),
    ),
  };
}

export function isGain(points: readonly { readonly hz: number; readonly db: number }[]): boolean {
  const nearest = (hz: number): number =>
    points.reduce((best, each) => (Math.abs(Math.log(each.hz / hz)) < Math.abs(Math.log(best.hz / hz)) ? each : best))
      .db;
  return points.length > 0 && nearest(50) - nearest(10_000) > fallOfCurve;
}

/** Spread over the logarithm of the frequency, from 10 Hz to 30 kHz. */
function thinned<P extends { readonly hz: number }>(points: readonly P[]): readonly P[] {
  const inBand = points.filter(({ hz }) => hz >= 10 && hz <= 30_000);
  const [first, last] = [inBand[0], inBand.at(-1)];
  if (first === undefined || last === undefined || inBand.length <= mostPoints) return inBand;
  const wanted = Array.from(
    { length: mostPoints },
    (_, n) => first.hz * (last.hz / first.hz) ** (n / (mostPoints - 1)),
  );
  const near = wanted.map((hz) =>
    inBand.reduce((best, each) => (Math.abs(each.hz / hz - 1) < Math.abs(best.hz / hz - 1) ? each : best)),
  );
  return [...new Set(near)];
}
