/** What the page shows: the list, or one file as a sheet or as text. */
export type Route =
  { readonly view: 'list' } | { readonly view: 'sheet' | 'text'; readonly path: string } | { readonly view: 'start' };

/** From an address's fragment, with the token it may carry: `#token=…&file=jobs/a.job.yaml&as=text`. */
export function readFragment(fragment: string): { readonly route: Route; readonly token: string | null } {
  const keys = new URLSearchParams(fragment.replace(/^#/, ''));
  const path = keys.get('file');
  const view = keys.get('as') === 'text' ? 'text' : 'sheet';
  const route: Route = path !== null ? { view, path } : keys.has('list') ? { view: 'list' } : { view: 'start' };
  return { route, token: keys.get('token') };
}

/** A fragment without token: it is kept out of the address once read. */
export function fragmentOf(route: Route): string {
  if (route.view === 'start') return '#';
  if (route.view === 'list') return '#list=';
  const as = route.view === 'text' ? '&as=text' : '';
  return `#file=${encodeURIComponent(route.path).replaceAll('%2F', '/')}${as}`;
}
