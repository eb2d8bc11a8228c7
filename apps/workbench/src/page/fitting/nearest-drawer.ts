/** `drawer.csv` in the job's folder or the nearest above it, and the types that are kept beside it; null where there is none. */
export function nearestDrawer(
  job: string,
  paths: readonly string[],
): { readonly drawer: string; readonly types: string | null } | null {
  const folders = job.split('/').slice(0, -1);
  for (let depth = folders.length; depth >= 0; depth--) {
    const drawer = [...folders.slice(0, depth), 'drawer.csv'].join('/');
    if (!paths.includes(drawer)) continue;
    const types = drawer.replace(/\.csv$/, '.types.yaml');
    return { drawer, types: paths.includes(types) ? types : null };
  }
  return null;
}
