import type { BipolarType, DiagnosticCode, FigureAt, JfetType, PartType, ZenerType } from '@curvewright/board';
import { transitTime } from './bipolar-charge.ts';

/** Figures that no part can have together: the diagnostic's code, and what is wrong; what to write. */
export interface Contradiction {
  readonly code: Extract<DiagnosticCode, 'transit-time' | 'out-of-range'>;
  readonly message: string;
}

/** The first contradiction among a type's figures, each of them being in its own range; null where they fit together. */
export function contradiction(type: PartType): Contradiction | null {
  switch (type.kind) {
    case 'npn':
    case 'pnp':
      return ofBipolar(type);
    case 'diode':
      return ofForwardDrop(type.VF);
    case 'zener':
      return ofZener(type);
    case 'jfet-n':
    case 'jfet-p':
      return ofJfet(type);
    case 'opamp':
    case 'triode':
      return null;
  }
}

function ofBipolar(type: BipolarType): Contradiction | null {
  const transit = transitTime(type);
  if (transit !== null && transit < 0) {
    return {
      code: 'transit-time',
      message: 'fT, Cob and Cib leave a negative transit time; write fT at a higher current, or smaller capacitances',
    };
  }
  const falling = type.hFE.some((point, index) => {
    const next = type.hFE[index + 1];
    return next !== undefined && next.value / point.value >= next.at / point.at;
  });
  if (!falling) return null;
  return outOfRange(
    'hFE rises faster than the current, so the base current would fall; write hFE points that rise less',
  );
}

function ofForwardDrop(points: readonly FigureAt[]): Contradiction | null {
  const [first, second] = points.toSorted((a, b) => a.at - b.at);
  if (!first || !second) return null;
  if (second.value > first.value && second.value / first.value < second.at / first.at) return null;
  return outOfRange(
    'two VF points must rise with the current, but by a smaller ratio than the current; write one point with ideality',
  );
}

function ofZener(type: ZenerType): Contradiction | null {
  if (type.rz !== undefined && type.rz * type.VZ.at >= type.VZ.value) {
    return outOfRange('rz at the current of VZ drops as much as VZ itself; write a smaller rz');
  }
  return ofForwardDrop(type.VF ?? []);
}

function ofJfet(type: JfetType): Contradiction | null {
  if (type.Ciss === undefined || type.Ciss >= (type.Crss ?? 0)) return null;
  return outOfRange('Ciss holds Crss within it and cannot be smaller; write Ciss of at least Crss');
}

function outOfRange(message: string): Contradiction {
  return { code: 'out-of-range', message };
}
