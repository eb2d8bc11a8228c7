/** What the server does, or why it does not: the status of the refusal, and words for a person. */
export type Answer<T> = { readonly ok: true; readonly value: T } | Refused;

export interface Refused {
  readonly ok: false;
  readonly status: 400 | 403 | 404 | 413 | 415 | 500 | 507;
  readonly message: string;
}

export function refused(status: Refused['status'], message: string): Refused {
  return { ok: false, status, message };
}

/** What the platform calls a trouble: `ENOENT`; empty where it is no trouble with a file. */
export function codeOf(trouble: unknown): string {
  return trouble instanceof Error && 'code' in trouble ? String(trouble.code) : '';
}

/** A file or folder that the platform will not read or write. */
export function fileTrouble(path: string, trouble: unknown): Refused {
  switch (codeOf(trouble)) {
    case 'ENOENT':
      return refused(404, `${path} is not there; look at the list again`);
    case 'EISDIR':
      return refused(400, `${path} is a folder; name a file in it`);
    case 'ENOTDIR':
    case 'EEXIST':
      return refused(400, `${path} lies below a file; name a folder there`);
    case 'ENAMETOOLONG':
      return refused(400, `${path} is longer than the disk takes; choose a shorter name`);
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return refused(403, `${path} may not be used here; check its permissions`);
    case 'ENOSPC':
    case 'EDQUOT':
      return refused(507, `${path} does not fit: the disk is full; make room and save again`);
    default:
      return refused(500, `${path} cannot be used: ${trouble instanceof Error ? trouble.message : String(trouble)}`);
  }
}
