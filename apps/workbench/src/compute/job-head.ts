import type { Job } from '@curvewright/board';
import type { JobHead } from '../contract/sheet.ts';

export function jobHead({ entry }: Job): JobHead {
  const { unit, date, technician, complaint, reminders } = entry;
  return {
    model: unit?.model ?? null,
    serial: unit?.serial ?? null,
    date: date ?? null,
    technician: technician ?? null,
    complaint: complaint ?? null,
    reminders: reminders ?? [],
  };
}
