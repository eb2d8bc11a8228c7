import { effect } from '@preact/signals';
import { proxy, wrap } from 'comlink';
import { render } from 'preact';
import type { Compute, SlowKind, SlowOutcome, SlowRequest } from '../contract/compute.ts';
import { Bench } from './bench.tsx';
import { benchServer } from './store/bench-server.ts';
import { follow } from './store/follow.ts';
import { fragmentOf, readFragment, type Route } from './store/route.ts';
import { createSession } from './store/session.ts';
import { words } from './words.ts';

/** Where a reload of this tab finds the token again; no other tab or page can read it. */
const tokenKey = 'bench-token';

function startWorker(): Compute {
  const worker = new Worker(new URL('../compute/worker.ts', import.meta.url), { type: 'module' });
  const remote = wrap<Compute>(worker);
  const compute: Compute = {
    open: (subject) => remote.open(subject),
    drag: (request) => remote.drag(request),
    edit: (request) => remote.edit(request),
    boardOf: (job) => remote.boardOf(job),
    jobFor: (request) => remote.jobFor(request),
    glance: (subject) => remote.glance(subject),
    overtake: (revision) => remote.overtake(revision),
    // The one function that crosses over stays here and is called from there.
    slow: <K extends SlowKind>(request: SlowRequest<K>, progress: (revision: number, share: number) => void) =>
      remote.slow(request, proxy(progress)) as Promise<SlowOutcome<K>>,
  };
  return compute;
}

function tokenOf(fresh: string | null): string | null {
  if (fresh !== null) sessionStorage.setItem(tokenKey, fresh);
  return fresh ?? sessionStorage.getItem(tokenKey);
}

function open(place: HTMLElement): void {
  const { route, token: fresh } = readFragment(location.hash);
  const token = tokenOf(fresh);
  if (token === null) {
    render(<p class="notice">{words.noToken}</p>, place);
    return;
  }
  const server = benchServer(token, crypto.randomUUID());
  const session = createSession({ server, computers: { quick: startWorker(), slow: startWorker() }, route });
  followAddress(session.route);
  render(<Bench session={session} />, place);
  void follow(session, server);
}

/** The address and the route are one, also for the browser's back and forward; the token does not stay in it. */
function followAddress(route: { value: Route }): void {
  effect(() => {
    const fragment = fragmentOf(route.value);
    if (location.hash === fragment) return;
    if (location.hash === '' || readFragment(location.hash).token !== null) history.replaceState(null, '', fragment);
    else history.pushState(null, '', fragment);
  });
  window.addEventListener('hashchange', () => {
    const { route: next } = readFragment(location.hash);
    if (fragmentOf(next) !== fragmentOf(route.value)) route.value = next;
  });
}

const place = document.getElementById('bench');
if (place) open(place);
