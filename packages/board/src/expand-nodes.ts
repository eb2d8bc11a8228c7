import type { NodeName } from './circuit.ts';
import type { DiagnosticCode } from './diagnostics.ts';
import { suggestion } from './nearest.ts';
import type { Path } from './read-yaml.ts';

/** The nodes and channels that names in a file refer to. */
export interface NodeScope {
  readonly channels: readonly string[];
  /** `gnd`, the rails and the nodes under `common:`. */
  readonly shared: ReadonlySet<string>;
}

export type NodeReading =
  | { readonly ok: true; readonly node: NodeName }
  | { readonly ok: false; readonly code: DiagnosticCode; readonly message: string };

/** Takes down a fault at a path below the entry: at the value there, or at its key. */
export type Report = (code: DiagnosticCode, below: Path, of: 'key' | 'value', message: string) => void;

/** The full node of what a lead writes, or a stand-in once its fault is taken down. */
export type NodeAt = (written: string, below: Path) => NodeName;

/** The full name of the node that `written` means on a part of `channel`; null for a part that exists once for all channels. */
export function fullNode(written: string, channel: string | null, scope: NodeScope): NodeReading {
  const [name = '', of] = written.split('@');
  const { channels, shared } = scope;
  if (of !== undefined) {
    if (shared.has(name)) {
      return { ok: false, code: 'unknown-node', message: `${name} is shared by the channels; write ${name}` };
    }
    if (!channels.includes(of)) {
      const message = `there is no channel ${of}; ${suggestion(of, channels)}`;
      return { ok: false, code: 'unknown-node', message };
    }
    return { ok: true, node: written };
  }
  if (shared.has(name)) return { ok: true, node: name };
  if (channel !== null) return { ok: true, node: `${name}@${channel}` };
  const spellings = channels.map((each) => `${name}@${each}`).join(' or ');
  const message = `${name} is a node of each channel, and the part exists once; write ${spellings}, or list ${name} under common`;
  return { ok: false, code: 'bare-channel-node', message };
}
