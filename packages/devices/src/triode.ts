import type { TriodeType } from '@curvewright/board';
import type { Device, NoiseSource } from './device.ts';
import { boltzmann, datasheetKelvin, shotDensity } from './physics.ts';

/** Perveance of the grid as a diode over that of the valve: order of magnitude of small-signal triodes, from memory. */
const gridShare = 0.5;

/** Fraction of the stated anode voltage over which the current sets in from 0 V; the law holds exactly above. */
const anodeOnset = 0.05;

/** Equivalent noise resistance × gm (Terman, Radio Engineers' Handbook, 1943; Reich; from memory), at room temperature. */
const noiseResistanceTimesSlope = 2.5;

/**
 * A triode, leads anode, grid, cathode; controls grid−cathode and anode−cathode. Three-halves-power law (Child–Langmuir; Reich, Theory and
 * Applications of Electron Tubes; from memory): IA = K·E^{3/2}, E = vg + va/µ, with E0 = 1.5·IA·rp/µ and K = IA/E0^{3/2} from the stated point, so
 * that current, µ and rp hold there; the grid voltage of that point then follows. No current for E ≤ 0 or va ≤ 0. A positive grid takes
 * K/2·vg^{3/2}; contact potential and grid current below 0 V are left out.
 */
export function triode(type: TriodeType): Device {
  const mu = type.mu;
  const drive = (1.5 * type.at.Ia * type.rp) / mu;
  const perveance = type.at.Ia / drive ** 1.5;
  const onset = anodeOnset * type.at.Va;
  const cag = type.Cag ?? 0;
  const cgk = type.Cgk ?? 0;
  const cak = type.Cak ?? 0;

  function evaluate(controls: Float64Array, currents: Float64Array, slopes: Float64Array): void {
    const vg = controls[0]!;
    const va = controls[1]!;
    const root = Math.sqrt(Math.max(vg + va / mu, 0));
    const law = perveance * root ** 3;
    const lawSlope = 1.5 * perveance * root;
    const t = Math.min(Math.max(va / onset, 0), 1);
    const gate = t * t * (3 - 2 * t);
    const gateSlope = (6 * t * (1 - t)) / onset;
    const gridRoot = Math.sqrt(Math.max(vg, 0));

    const anode = law * gate;
    const grid = gridShare * perveance * gridRoot ** 3;
    currents[0] = anode;
    currents[1] = grid;
    currents[2] = -(anode + grid);

    const anodeByVg = lawSlope * gate;
    const anodeByVa = (lawSlope / mu) * gate + law * gateSlope;
    const gridByVg = 1.5 * gridShare * perveance * gridRoot;
    slopes[0] = anodeByVg;
    slopes[1] = anodeByVa;
    slopes[2] = gridByVg;
    slopes[3] = 0;
    slopes[4] = -(anodeByVg + gridByVg);
    slopes[5] = -anodeByVa;
  }

  function store(controls: Float64Array, charges: Float64Array, slopes: Float64Array): void {
    const vg = controls[0]!;
    const va = controls[1]!;
    charges[0] = cag * (va - vg) + cak * va;
    charges[1] = cag * (vg - va) + cgk * vg;
    charges[2] = -cgk * vg - cak * va;
    slopes[0] = -cag;
    slopes[1] = cag + cak;
    slopes[2] = cag + cgk;
    slopes[3] = -cag;
    slopes[4] = -cgk;
    slopes[5] = -cak;
  }

  /** Steps of the cut-off bias at the stated anode voltage for the grid and a quarter of that voltage for the anode. */
  const steps = [type.at.Va / mu, type.at.Va / 4];

  function limit(proposed: Float64Array, previous: Float64Array): boolean {
    let changed = false;
    steps.forEach((step, k) => {
      const wished = proposed[k]!;
      const last = previous[k]!;
      // Down into cut-off nothing grows, so the grid may go there at once.
      if (wished - last <= step && (k === 0 || last - wished <= step)) return;
      proposed[k] = last + Math.sign(wished - last) * step;
      changed = true;
    });
    return changed;
  }

  function anodeNoise(slope: number): NoiseSource {
    if (type.en !== undefined) {
      return { name: 'anode', quantity: 'voltage', between: [1, 2], density: type.en ** 2, corner: 0 };
    }
    // The resistance 2.5/gm in series with the grid, carried to the anode, where cut-off makes it vanish instead of grow without bound.
    const density = 4 * boltzmann * datasheetKelvin * noiseResistanceTimesSlope * slope;
    return { name: 'anode', quantity: 'current', between: [0, 2], density, corner: 0 };
  }

  return {
    leads: ['anode', 'grid', 'cathode'],
    controls: [
      [1, 2],
      [0, 2],
    ],
    evaluate,
    store,
    limit,
    start: [drive - type.at.Va / mu, type.at.Va],
    noise(controls) {
      const currents = new Float64Array(3);
      const slopes = new Float64Array(6);
      evaluate(controls, currents, slopes);
      const density = shotDensity(currents[1]!);
      return [
        anodeNoise(slopes[0]!),
        { name: 'shot of the grid', quantity: 'current', between: [1, 2], density, corner: 0 },
      ];
    },
  };
}
