/** Hz of the mains, how many multiples are looked for, and by which share they may be off. */
const mains = [50, 60] as const;
const multiples = 12;
const offShare = 0.005;
/** Power by which a line departs from the mean of its sides over what is usual around it, from which on it is bridged: of noise one in a million does. */
const standsOut = 20;
/** Hz to either side that are bridged, and over which both ends are averaged. */
const [half, rest] = [0.25, 0.25];

/**
 * Takes hum out of a response: a steady line lies within a fraction of a hertz, the response around it is smooth, so it is drawn straight across. In place, re, im pairs;
 * `lasts` is the length of the recording in s, which makes lines no narrower than about one over it.
 */
export function bridgeMains(spectrum: Float64Array, stepHz: number, lasts: number): void {
  const width = Math.max(half, 2 / lasts);
  for (const base of mains) {
    for (let multiple = 1; multiple <= multiples; multiple++) {
      const at = lineNear(spectrum, stepHz, base * multiple, width);
      if (at !== null) bridge(spectrum, at, Math.ceil(width / stepHz), Math.max(1, Math.round(rest / stepHz)));
    }
  }
}

/** The bin of a line near a frequency; null where nothing stands out. */
function lineNear(spectrum: Float64Array, stepHz: number, hz: number, width: number): number | null {
  const reach = Math.ceil((offShare * hz) / stepHz) + 1;
  const middle = Math.round(hz / stepHz);
  const side = Math.ceil(width / stepHz);
  const around = reach + 6 * side;
  if (middle - around - side < 1 || 2 * (middle + around + side) + 1 >= spectrum.length) return null;
  const departures = Float64Array.from({ length: 2 * around + 1 }, (_, n) =>
    departure(spectrum, middle - around + n, side),
  );
  const usual = departures.toSorted()[around]!;
  let best = middle;
  const of = (k: number): number => departures[k - middle + around]!;
  for (let k = middle - reach; k <= middle + reach; k++) if (of(k) > of(best)) best = k;
  return usual > 0 && of(best) > standsOut * usual ? best : null;
}

/** How far a bin lies from the mean of both its sides, as a power. */
function departure(spectrum: Float64Array, k: number, side: number): number {
  const off = (part: number): number =>
    spectrum[2 * k + part]! - (spectrum[2 * (k - side) + part]! + spectrum[2 * (k + side) + part]!) / 2;
  return off(0) ** 2 + off(1) ** 2;
}

function bridge(spectrum: Float64Array, at: number, half: number, rest: number): void {
  for (const part of [0, 1]) {
    const meanOf = (from: number): number => {
      let sum = 0;
      for (let k = from; k < from + rest; k++) sum += spectrum[2 * k + part]!;
      return sum / rest;
    };
    const [left, right] = [meanOf(at - half - rest), meanOf(at + half + 1)];
    for (let k = at - half; k <= at + half; k++) {
      spectrum[2 * k + part] = left + ((right - left) * (k - at + half + rest / 2)) / (2 * half + rest);
    }
  }
}
