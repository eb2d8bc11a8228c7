export type * from './circuit.ts';
export type * from './diagnostics.ts';
export type * from './part-type.ts';
export type * from './board.ts';
export { expandPart, designatorsOf, type Expanded, type ExpansionScope } from './expand-part.ts';
export { readBoard } from './read-board.ts';
export { boardJsonSchema, typesJsonSchema, type Cartridge } from './schema/board-schema.ts';
export { defaultLimits, mergeLimits, type Limits, type PartialLimits } from './schema/limits-schema.ts';
export { capacitorBuilds, resistorBuilds, type BodySize, type PartEntry, type Seat } from './schema/part-schema.ts';
export { readJob, type JobFile } from './read-job.ts';
export { joinJob } from './join-job.ts';
export {
  circuitOf,
  circuitWithOnly,
  circuitWithout,
  circuitWithValue,
  type Change,
  type StateCircuit,
} from './states.ts';
export type * from './job.ts';
export { leadsOf } from './leads.ts';
export { describePart, describeParts } from './describe-part.ts';
export { jobJsonSchema } from './schema/job-schema.ts';
export type * from './schema/job-schema.ts';
export type { FaultName, FitEntry, PulledEntry, SwapEntry } from './schema/swap-schema.ts';
export { fileKind } from './file-kind.ts';
