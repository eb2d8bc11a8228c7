import type { Conflict, FileList, FileText, OutsideChange, Refusal, Saved, SaveRequest } from '../../contract/files.ts';
import { words } from '../words.ts';

export type Reply<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly message: string };

export type SaveReply =
  | { readonly outcome: 'saved'; readonly saved: Saved }
  /** What stands on the disk instead of the version that was built on; null: the file is gone. */
  | { readonly outcome: 'conflict'; readonly theirs: FileText | null }
  | { readonly outcome: 'refused'; readonly message: string };

/** The file server as the page sees it. */
export interface BenchServer {
  list(): Promise<Reply<FileList>>;
  read(path: string): Promise<Reply<FileText>>;
  save(request: SaveRequest): Promise<SaveReply>;
  /** Calls back for what something else wrote, and whether the line to the server stands; returns how to hang up. */
  watch(onChange: (change: OutsideChange) => void, onLine: (stands: boolean) => void): () => void;
}

const refused = { ok: false, message: words.unreachable } as const;

/** `page` names this page to the server, so that it is not told of its own saves. */
export function benchServer(token: string, page: string): BenchServer {
  const call = (path: string, init: RequestInit = {}): Promise<Response | null> =>
    fetch(path, {
      ...init,
      headers: { 'x-bench-token': token, 'x-bench-page': page, 'content-type': 'application/json' },
      cache: 'no-store',
    }).catch(() => null);

  async function read<T>(path: string): Promise<Reply<T>> {
    const response = await call(path);
    if (response === null) return refused;
    return response.ok
      ? { ok: true, value: (await response.json()) as T }
      : { ok: false, message: await messageOf(response) };
  }

  return {
    list: () => read('/api/files'),
    read: (path) => read(`/api/file?path=${encodeURIComponent(path)}`),
    async save(request) {
      const response = await call('/api/file', { method: 'PUT', body: JSON.stringify(request) });
      if (response === null) return { outcome: 'refused', message: words.unreachable };
      if (response.ok) return { outcome: 'saved', saved: (await response.json()) as Saved };
      if (response.status !== 409) return { outcome: 'refused', message: await messageOf(response) };
      const { path, text, version } = (await response.json()) as Conflict;
      return { outcome: 'conflict', theirs: text === null || version === null ? null : { path, text, version } };
    },
    watch(onChange, onLine) {
      const events = new EventSource(`/api/events?${new URLSearchParams({ token, page }).toString()}`);
      events.onmessage = ({ data }: MessageEvent<string>) => {
        onChange(JSON.parse(data) as OutsideChange);
      };
      events.onopen = () => {
        onLine(true);
      };
      events.onerror = () => {
        onLine(false);
      };
      return () => {
        events.close();
      };
    },
  };
}

async function messageOf(response: Response): Promise<string> {
  const refusal = (await response.json().catch(() => null)) as Partial<Refusal> | null;
  return refusal?.message ?? `${response.status} ${response.statusText}`;
}
