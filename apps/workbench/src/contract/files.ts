/** What the file server answers and takes, as JSON under `/api`; every request carries the token in `x-bench-token`. */

/** SHA-256 of a file's bytes, hex. */
export type Version = string;

export interface FileEntry {
  /** Relative to the folder, with `/`. */
  readonly path: string;
  readonly kind: 'job' | 'board' | 'drawer' | 'types' | 'other';
  readonly version: Version;
  /** ISO 8601. */
  readonly modified: string;
}

/** GET /api/files */
export interface FileList {
  /** Absolute, as the person knows it. */
  readonly folder: string;
  readonly files: readonly FileEntry[];
}

/** GET /api/file?path=… · what a conflict (409) answers too: what stands on the disk now. */
export interface FileText {
  readonly path: string;
  readonly text: string;
  readonly version: Version;
}

/** PUT /api/file */
export interface SaveRequest {
  readonly path: string;
  readonly text: string;
  /** The version this text was made from; null: the file must not exist yet. */
  readonly base: Version | null;
}

/** Its answer, 200. */
export interface Saved {
  readonly version: Version;
}

/** GET /api/history?path=… */
export interface KeptVersion {
  readonly id: string;
  /** ISO 8601. */
  readonly saved: string;
  readonly version: Version;
}

/** An event of GET /api/events?token=…: a file that something else wrote or removed (null). */
export interface OutsideChange {
  readonly path: string;
  readonly version: Version | null;
}

/** Any refusal: what is wrong and what to do, for a person. */
export interface Refusal {
  readonly message: string;
}
