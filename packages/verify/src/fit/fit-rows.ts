import type { Part } from '@curvewright/board';
import { capacitorPolarity, diodePolarity } from './polarity.ts';
import { ceramicRow } from './ceramic-rule.ts';
import { faultVolts, type FaultVolts } from './fault-volts.ts';
import type { FitContext, FitRow } from './fit-row.ts';
import { leadAnswer } from './lead-rule.ts';
import { capacitorVolts } from './rated-volts.ts';
import { deviceRatings } from './rated-devices.ts';
import { resistorWatts } from './rated-watts.ts';
import { voltsWithoutActiveParts } from './resistors-only.ts';
import { rippleCurrent } from './ripple-current.ts';
import { seatRows } from './seat-rule.ts';

/** What is known of the whole board before its parts are asked. */
interface Surroundings {
  readonly withoutActiveParts: ReadonlyMap<string, number>;
  readonly faults: FaultVolts;
}

/** Every question of fit about every part of a stage, in the order of its parts. */
export function fitRows(context: FitContext): readonly FitRow[] {
  return context.stage.circuit.parts.flatMap(fitQuestions(context));
}

/** The questions, for a part of the stage or for one of another make that would stand in its place under its name. */
export function fitQuestions(context: FitContext): (part: Part) => readonly FitRow[] {
  const { stage } = context;
  const around = { withoutActiveParts: voltsWithoutActiveParts(stage.circuit), faults: faultVolts(stage) };
  return (part) => [...partRows(part, context, around), ...seatRows(part)];
}

function partRows(part: Part, context: FitContext, { withoutActiveParts, faults }: Surroundings): readonly FitRow[] {
  switch (part.kind) {
    case 'capacitor':
      return [
        ...capacitorVolts(part, context, withoutActiveParts, faults),
        ...rippleCurrent(part, context),
        ...capacitorPolarity(part, context),
        ...ceramicRow(part, context),
      ];
    case 'resistor':
    case 'trimmer':
      return resistorWatts(part, context);
    case 'typed': {
      const leads = leadAnswer(part);
      return [...deviceRatings(part, context), ...diodePolarity(part, context), ...(leads === null ? [] : [leads.row])];
    }
    case 'inductor':
    case 'switch':
      return [];
  }
}
