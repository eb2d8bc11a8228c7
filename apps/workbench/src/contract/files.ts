/**
 * What the file server answers and takes, as JSON under `/api`; every request carries the token in `x-bench-token`. The page gets the
 * token as the whole fragment of its address: `http://127.0.0.1:PORT/#TOKEN`.
 */

/** SHA-256 of a file's bytes, hex. */
export type Version = string;

export interface FileEntry {
  /** Relative to the folder, with `/`. */
  readonly path: string;
  readonly kind: 'job' | 'board' | 'drawer' | 'types' | 'shop' | 'other';
  readonly version: Version;
  /** ISO 8601. */
  readonly modified: string;
}

/** GET /api/files: what the bench can open, `.yaml`, `.yml` and `.csv`, by path. */
export interface FileList {
  /** Absolute, as the person knows it. */
  readonly folder: string;
  readonly files: readonly FileEntry[];
  /** False: the folder holds more than a bench looks through; the rest is left out. */
  readonly complete: boolean;
}

/** GET /api/file?path=… */
export interface FileText {
  readonly path: string;
  readonly text: string;
  readonly version: Version;
}

/** PUT /api/file. A page that names itself in `x-bench-page` and in `page=` of its events is not told of its own saves. */
export interface SaveRequest {
  readonly path: string;
  readonly text: string;
  /** The version this text was made from; null: the file must not exist yet. */
  readonly base: Version | null;
}

/** Its answer, 200; also where this very text stands on the disk already. */
export interface Saved {
  readonly version: Version;
}

/** Its answer, 409: what stands on the disk now; nulls where the file is gone, which a save with base null writes anew. */
export interface Conflict {
  readonly path: string;
  readonly text: string | null;
  readonly version: Version | null;
}

/** GET /api/history?path=…: an array, newest first; what the bench wrote and what it replaced. GET /api/history/text?path=…&id=… answers `FileText`. */
export interface KeptVersion {
  readonly id: string;
  /** ISO 8601. */
  readonly saved: string;
  readonly version: Version;
}

/**
 * A message of GET /api/events?token=…&page=…: a file that another page or program wrote, made or removed (null). What happens while
 * the stream is broken is not told afterwards: list the files again when it opens.
 */
export interface OutsideChange {
  readonly path: string;
  readonly version: Version | null;
}

/** Any refusal (400, 403, 404, 409 aside, 413, 415, 500, 507): what is wrong and what to do, for a person. */
export interface Refusal {
  readonly message: string;
}
