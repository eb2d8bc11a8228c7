/** What the page shows: the list, or one file as a sheet or as text. */
export type Route =
  { readonly view: 'list' } | { readonly view: 'sheet' | 'text'; readonly path: string } | { readonly view: 'start' };

/** From an address's fragment: the server's token, as it prints it, or `#file=jobs/a.job.yaml&as=text`. */
export function readFragment(fragment: string): { readonly route: Route; readonly token: string | null } {
  const bare = fragment.replace(/^#/, '');
  if (/^[\w-]+$/.test(bare)) return { route: { view: 'start' }, token: bare };
  const keys = new URLSearchParams(bare);
  const path = keys.get('file');
  const view = keys.get('as') === 'text' ? 'text' : 'sheet';
  const route: Route = path !== null ? { view, path } : keys.has('list') ? { view: 'list' } : { view: 'start' };
  return { route, token: null };
}

/** A fragment without token: it is kept out of the address once read. */
export function fragmentOf(route: Route): string {
  if (route.view === 'start') return '#';
  if (route.view === 'list') return '#list=';
  const as = route.view === 'text' ? '&as=text' : '';
  return `#file=${encodeURIComponent(route.path).replaceAll('%2F', '/')}${as}`;
}
