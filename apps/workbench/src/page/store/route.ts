/** What the page shows: the list, or one file as a sheet, as text, by ear or in a lesson. */
export type Route =
  | { readonly view: 'list' }
  | { readonly view: FileView; readonly path: string; readonly lesson?: string | undefined }
  | { readonly view: 'start' };

const fileViews = ['sheet', 'text', 'ear', 'lessons'] as const;
type FileView = (typeof fileViews)[number];

/** From an address's fragment: the server's token, as it prints it, or `#file=jobs/a.job.yaml&as=text`. */
export function readFragment(fragment: string): { readonly route: Route; readonly token: string | null } {
  const bare = fragment.replace(/^#/, '');
  if (/^[\w-]+$/.test(bare)) return { route: { view: 'start' }, token: bare };
  const keys = new URLSearchParams(bare);
  const path = keys.get('file');
  const view = fileViews.find((each) => each === keys.get('as')) ?? 'sheet';
  const lesson = keys.get('lesson') ?? undefined;
  const route: Route =
    path !== null ? { view, path, ...(lesson && { lesson }) } : keys.has('list') ? { view: 'list' } : { view: 'start' };
  return { route, token: null };
}

/** A fragment without token: it is kept out of the address once read. */
export function fragmentOf(route: Route): string {
  if (route.view === 'start') return '#';
  if (route.view === 'list') return '#list=';
  const as = route.view === 'sheet' ? '' : `&as=${route.view}`;
  const lesson = route.view === 'lessons' && route.lesson !== undefined ? `&lesson=${route.lesson}` : '';
  return `#file=${encodeURIComponent(route.path).replaceAll('%2F', '/')}${as}${lesson}`;
}
