import { mergeLimits, type Diagnostic, type Outcome } from '@curvewright/board';
import { channelBias, partShares, shareFigures, voltsByNode, type PartShares } from '@curvewright/verify';
import { stageDrawing, stageDrawingText, stageScene, type Only, type StageDrawingOptions } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { reasonOf, unreadable, writeWhole } from '../files.ts';
import { stageOf, type StageRequest, type SubjectStage } from '../stage-of.ts';

export interface DrawingOptions extends StageRequest {
  readonly json?: boolean;
  readonly channel?: string;
  readonly volts?: boolean;
  readonly currents?: boolean;
  /** A figure, or a node by its bare name. */
  readonly shade?: string;
  readonly only?: 'dc' | 'ac';
  /** Hz, of the reactances. */
  readonly at?: number;
  /** A file that takes the SVG. */
  readonly out?: string;
}

/** Hz of the reactances where none is asked for. */
const usualHz = 1000;

/** One channel's circuit, drawn: SVG, or its text equivalent with the place of every part. */
export function drawing(file: string, options: DrawingOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const solved = stageOf(file, options);
  if (!solved.ok) return refuse(desk, solved.diagnostics, json);
  const { title, state, stage, subject } = solved.value;
  const { circuit } = stage;
  const channel = options.channel ?? circuit.channels[0]?.name ?? '';
  const shown = shownOf(solved.value, channel, options, file);
  if (!shown.ok) return refuse(desk, shown.diagnostics, json);
  const heading = [
    title,
    ...(circuit.channels.length > 1 ? [channel] : []),
    ...(subject.kind === 'job' ? [state] : []),
  ].join(', ');
  const svg = `${stageDrawing(circuit, channel, { ...shown.value, ink: 'print', titled: true, title: heading })}\n`;
  const trouble = options.out === undefined ? null : written(options.out, svg);
  if (trouble !== null) return refuse(desk, [trouble], json);
  if (json) {
    const { parts, crossings } = stageScene(circuit, channel, shown.value);
    const positions = Object.fromEntries(
      parts.map(({ ref, body }) => [ref, [(body.left + body.right) / 2, (body.top + body.bottom) / 2]]),
    );
    const text = stageDrawingText(circuit, channel, shown.value);
    printJson(desk, { title, state, channel, positions, crossings: crossings.length, text });
  } else desk.out(options.out === undefined ? svg : `${options.out}: ${heading}`);
  return 0;
}

/** What the command wants to see on the drawing. */
function shownOf(
  { subject, stage }: SubjectStage,
  channel: string,
  { volts, currents, shade, only, at }: DrawingOptions,
  file: string,
): Outcome<StageDrawingOptions> {
  const { circuit } = stage;
  const channels = circuit.channels.map(({ name }) => name);
  if (!channels.includes(channel))
    return refused(file, 'wrong-form', `there is no channel ${channel}; write one of ${channels.join(', ')}`);
  if (at !== undefined && only !== 'ac')
    return refused(
      file,
      'wrong-form',
      'a frequency is that of the reactances; write --only ac beside it, or leave --at out',
    );
  const limits = subject.kind === 'job' ? subject.job.limits : mergeLimits(subject.board.limits);
  let shares: PartShares | undefined;
  if (shade !== undefined) {
    const figure = shareFigures.find((each) => each === shade);
    const nodes = voltsByNode(stage, channel);
    const isNode = nodes.has(`${shade}@${channel}`) || nodes.has(shade);
    if (figure === undefined && !isNode)
      return refused(
        file,
        'unknown-node',
        `${shade} is no node of this board; write one, or one of ${shareFigures.join(', ')}`,
      );
    shares = partShares(stage, channel, figure ?? { node: shade }, limits) ?? undefined;
    if (shares === undefined)
      return refused(file, 'no-bias', 'the bias stands where the equations are singular; volts and poles tell where');
  }
  const chosen: Only | undefined =
    only === 'ac' ? { kind: 'ac', hz: at ?? usualHz } : only === 'dc' ? { kind: 'dc' } : undefined;
  const positions = (subject.kind === 'job' ? subject.job.board : subject.board).drawing;
  return {
    ok: true,
    value: {
      only: chosen,
      positions,
      volts: volts ? voltsByNode(stage, channel) : undefined,
      currents: currents ? channelBias(stage, channel) : undefined,
      shares,
    },
  };
}

function refused(file: string, code: Diagnostic['code'], message: string): Outcome<never> {
  return { ok: false, diagnostics: [{ code, place: { file, line: 1, column: 1 }, message }] };
}

/** What went wrong, or null. */
function written(file: string, svg: string): Diagnostic | null {
  try {
    writeWhole(file, svg);
    return null;
  } catch (trouble) {
    const outcome = unreadable(file, reasonOf(trouble));
    return outcome.ok ? null : (outcome.diagnostics[0] ?? null);
  }
}
