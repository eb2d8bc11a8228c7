import { listen as listenTo } from '@curvewright/capture';
import { listenPage, type ListenedRecording } from '@curvewright/report';
import { printJson, refuse, type Status } from '../answering.ts';
import type { Desk } from '../desk.ts';
import { listenInput, type ListenFiles } from '../listen-files.ts';

export interface ListenOptions extends ListenFiles {
  readonly json?: boolean;
  /** Where the plug was. */
  readonly at: string;
}

/** What a recording of a test signal says of the board. 3 where nothing in it could be measured. */
export function listen(file: string, options: ListenOptions, desk: Desk): Status {
  const json = options.json ?? false;
  const input = listenInput(file, options);
  if (!input.ok) return refuse(desk, input.diagnostics, json);
  const { at, loopback = null, adapter = null, chain = null } = options;
  const answer: ListenedRecording = {
    recording: file,
    at,
    corrected: { loopback, adapter, chain },
    ...listenTo(input.value),
  };
  if (json) printJson(desk, answer);
  else desk.out(listenPage(answer, desk));
  return answer.channels.length > 0 ? 0 : 3;
}
