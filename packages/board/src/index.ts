export type * from './circuit.ts';
export type * from './diagnostics.ts';
export type * from './part-type.ts';
export type * from './board.ts';
export { readBoard } from './read-board.ts';
export { boardJsonSchema, typesJsonSchema } from './schema/board-schema.ts';
export { mergeLimits, type Limits } from './schema/limits-schema.ts';
export type { RatingLimits } from './schema/rating-limits.ts';
export { readJob } from './read-job.ts';
export { joinJob } from './join-job.ts';
export { circuitOf, circuitWithOnly, circuitWithValue, type Change } from './states.ts';
export { agePart } from './aged-part.ts';
export { junctionNames, type Fault, type LeadPlace } from './fault.ts';
export { faultMismatch } from './fault-mismatch.ts';
export type { Job, JobPosition, State } from './job.ts';
export { toleranceOf } from './build-tolerance.ts';
export { leadLetter, leadsOf, twoLeads } from './leads.ts';
export { jobJsonSchema } from './schema/job-schema.ts';
export { fileKind } from './file-kind.ts';
export { describePart } from './describe-part.ts';
export { describeStanding } from './describe-standing.ts';
export { readYaml } from './read-yaml.ts';
export { capacitorBuilds, resistorBuilds } from './schema/part-schema.ts';
export { spelledNode } from './spelled-node.ts';
export { editJob } from './edit/edit-job.ts';
export { jobForBoard } from './edit/job-for-board.ts';
export type { JobEdit, NewPosition } from './edit/job-edit.ts';
export { readDrawer, type Drawer } from './drawer/read-drawer.ts';
export type { StockPart } from './drawer/stock.ts';
export { isOfKind, stockStanding, typeOfStock } from './drawer/stock-standing.ts';
export { readTypes } from './drawer/read-types.ts';
export { readPieces, type MeasuredPiece } from './drawer/read-pieces.ts';
export { withFigures } from './drawer/piece-columns.ts';
export { readCsv, writeCsv, type Cell, type CsvRow } from './drawer/csv.ts';
export { withValue } from './part-value.ts';
export { leakageOhms } from './schema/loss-schema.ts';
export {
  benchActions,
  faultKinds,
  type BenchAction,
  type FaultKind,
  type Suspecting,
} from './schema/suspecting-schema.ts';
export { heardWords, type Heard } from './schema/readings-schema.ts';
export type { Readings } from './job.ts';
export { readShop } from './read-shop.ts';
export { shopJsonSchema, type Shop } from './schema/shop-schema.ts';
